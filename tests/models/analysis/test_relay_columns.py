"""The columns of a relay's options, read from a file and from a frame."""

import io

import pandas as pd
import pytest

from models.analysis.judge_frame import judge_frame
from models.criteria import load
from tests.models.analysis.test_judge_file import differences, with_words

# IEC standard inverse, pickup 100 A, dial 0.3: 3.00871 s at 2 times, 0.680207 s at 20.
FILE = """\
id,test,value,unit,curve,pickup_a,applied_a,time_dial,tolerance_pct,bands,\
ceiling_multiple,minimum_time_s,pickup_error_pct,current_error_pct,\
measured_pickup_a,timed_against
plain,relay_timing,3.30,s,iec_standard_inverse,100,200,0.3,5,,,,,,,
bands,relay_timing,3.30,s,iec_standard_inverse,100,200,0.3,5,iec_60255_151,,,,,,
ceiling,relay_timing,0.69,s,iec_standard_inverse,100,3000,0.3,5,,20,,,,,
minimum,relay_timing,0.79,s,iec_standard_inverse,100,2000,0.3,5,,,0.8,,,,
pickup,relay_timing,3.30,s,iec_standard_inverse,100,200,0.3,5,,,,5,,,
both,relay_timing,3.45,s,iec_standard_inverse,100,200,0.3,5,,,,5,1,,
beside,relay_timing,3.30,s,iec_standard_inverse,100,200,0.3,5,,,,,,103,
decides,relay_timing,3.30,s,iec_standard_inverse,100,200,0.3,5,,,,,,103,measured_pickup
unknown,relay_timing,3.30,s,iec_standard_inverse,100,200,0.3,5,,,,,,,measured_pickup
against,relay_timing,3.30,s,iec_standard_inverse,100,200,0.3,5,iec_60255_151,,,5,,,
"""
WANTED = {
    "plain": "outside",
    "bands": "within",
    "ceiling": "within",
    "minimum": "within",
    "pickup": "within",
    "both": "within",
    "beside": "outside",
    "decides": "within",
    "unknown": "unjudged",
    "against": "unjudged",
}


def test_a_file_is_judged_by_its_options() -> None:
    data = FILE.encode()
    judged = with_words(data, 4).rows
    assert {name: judgement.verdict for name, judgement in judged} == WANTED
    assert differences(data, 4) == []


def test_a_frame_is_judged_by_its_options() -> None:
    frame = pd.read_csv(io.StringIO(FILE), dtype=str)
    verdicts = judge_frame(frame, load())["verdict"]
    assert dict(zip(frame["id"], verdicts, strict=True)) == WANTED


REFUSED = {
    "bands": "class 5",
    "timed_against": "pickup",
    "ceiling_multiple": "0",
    "measured_pickup_a": "0",
    "pickup_error_pct": "-1",
}


@pytest.mark.parametrize(("column", "cell"), REFUSED.items())
def test_what_cannot_be_is_refused_with_its_place(column: str, cell: str) -> None:
    data = f"id,test,value,unit,{column}\nr,relay_timing,3,s,{cell}\n"
    said = with_words(data.encode(), 4).faults
    assert [fault.split(": ")[0] for fault in said] == [f"line 2, column {column}"]


def test_each_row_in_assigned_bands_cites_its_own_band() -> None:
    """IEC standard inverse, dial 1: 10.029, 4.2797, 2.9706 and 2.2674 s."""
    rows = ["id,test,value,unit,curve,pickup_a,applied_a,time_dial,tolerance_pct,bands"]
    times = {"2": "10.03", "5": "4.28", "10": "2.97", "20": "2.27"}
    for applied, seconds in times.items():
        row = f"{seconds},s,iec_standard_inverse,1,{applied},1,5,iec_60255_151"
        rows.append(f"r{applied},relay_timing,{row}")
    data = ("\n".join(rows) + "\n").encode()
    judged = with_words(data, 4).rows
    assert {judgement.verdict for _, judgement in judged} == {"within"}
    assert len({str(judgement.cite) for _, judgement in judged}) > 1
    assert differences(data, 4) == []
