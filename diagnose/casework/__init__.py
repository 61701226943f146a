"""A case as plain data: what was answered, what follows from it, and what to do. Nothing here prints or prompts."""
