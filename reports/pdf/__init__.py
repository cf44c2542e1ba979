"""Papers as PDF: templates draw, data go to them as JSON and never as markup."""
