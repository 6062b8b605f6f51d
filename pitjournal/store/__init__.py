"""The journal on disk: tables, transactions, history, attachments. SQL lives here only."""
