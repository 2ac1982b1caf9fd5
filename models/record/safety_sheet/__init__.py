"""The safety sheet to print and sign: what is asked, with what is on record so far."""
