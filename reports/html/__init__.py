"""Papers as web pages of one file each: nothing is fetched, nothing runs."""
