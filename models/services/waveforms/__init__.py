"""A time measured in a waveform record: on which card, its verdict, its recording."""
