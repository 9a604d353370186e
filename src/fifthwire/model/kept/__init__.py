"""What is kept over the years: places and heads, manuals and meters, visits, what is to do, and who may do it."""
