"""Which block goes where: the quadratic assignment, the rules of arranging, and the reasons in words."""
