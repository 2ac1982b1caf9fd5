"""What an export holds: everything on record of a site, a lineup or a round."""
