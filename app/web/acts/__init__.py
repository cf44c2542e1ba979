"""What people do at the desk, a form each: what is asked, and the use case that is called."""
