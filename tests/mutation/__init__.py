"""Mutation testing of the judging core: do the tests see each change of it?"""
