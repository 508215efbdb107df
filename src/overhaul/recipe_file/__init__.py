"""The recipe file read back: checked by the published description, then laid over what its own lines say."""
