"""Papers as workbooks: text is written as text, never as a formula."""
