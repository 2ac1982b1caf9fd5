"""The command line: `witnessmark ...`."""

import click

from models.errors import WitnessmarkError
from webapp.commands.check import check_command
from webapp.commands.criteria import criteria_command
from webapp.commands.demo import demo_command
from webapp.commands.export import export_command
from webapp.commands.import_lineup import import_lineup_command
from webapp.commands.judge import judge_command
from webapp.commands.migrate import migrate_command
from webapp.commands.put_clock_back import put_clock_back_command
from webapp.commands.report import report_command
from webapp.commands.serve import serve_command
from webapp.commands.user import user_command
from webapp.commands.verify import verify_command


@click.group()
@click.version_option(package_name="witnessmark")
def main() -> None:
    """Acceptance-test and commissioning records of medium-voltage switchgear."""


for command in (
    check_command,
    criteria_command,
    demo_command,
    export_command,
    import_lineup_command,
    judge_command,
    migrate_command,
    put_clock_back_command,
    report_command,
    serve_command,
    user_command,
    verify_command,
):
    main.add_command(command)


def run() -> None:
    """Run the command line; errors raised on purpose are said without a trace."""
    try:
        main()
    except WitnessmarkError as error:
        raise SystemExit(f"witnessmark: {error}") from error


if __name__ == "__main__":
    run()
