"""The circuit of a system as a drawing: mains in two or three lines, outdoor units at the left, the others hung along.

Made like music: a main that does not fit on one line goes on in the next, its ends lettered.
"""
