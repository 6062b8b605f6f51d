"""Times as a cook reads them, and as a cook types them."""
