"""An audit inside an editor: a language server over standard input and output."""
