"""Data in, result out: comparison, ledger, leeway, trends, wording."""
