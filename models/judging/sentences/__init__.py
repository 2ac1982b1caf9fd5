"""The sentences of a judgement: made of its steps, from the catalogue."""
