"""Tags and filters of the shop's pages."""
