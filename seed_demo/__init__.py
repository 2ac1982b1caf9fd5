"""A made-up site, built through the services a user would use."""
