"""What a reader gets: findings, readings, sums and recipes in every form they are shown or handed on in."""
