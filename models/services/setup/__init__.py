"""Before the work: sites, lineups, apparatus, instruments, programmes, rounds."""
