"""Papers made by name: what each is about is looked up, written, and put on disk."""
