"""What the bench needs of a recipe besides its findings: what to weigh, the flow of the work, points to control, dates, a file's checklist."""
