"""Waveform records (COMTRADE): read one whole, and measure a time in it.

A record is what a relay, a recorder or a test set kept of a shot: samples of analog
and status channels, in the files of IEEE C37.111 (IEC 60255-24). The package
`comtrade` converts the samples; what it lets pass in silence is refused here.
"""
