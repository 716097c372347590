"""The mathematics of Batting Order: lengths, layouts, cloth, days and money, with no site around them."""
