"""What a gardener can ask, one use case a file: the only place where store, weather and reckoning meet.

Time is passed in. No arithmetic of the trade stands here: what a soak comes to, what a day does and
what is advised is asked of the layers below; here it is checked against the book, written and said.
"""
