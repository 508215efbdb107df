"""The grammar of what cooks write; the .lark files are its text."""
