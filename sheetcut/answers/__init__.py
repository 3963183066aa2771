"""Questions that plan again: what paper costs, what a sheet gives, what to buy, editions."""
