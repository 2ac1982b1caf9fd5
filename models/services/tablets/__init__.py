"""Tablets that take rounds along: known by name, asked what they still hold."""
