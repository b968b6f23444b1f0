"""The season's account and the proof: frames, figures and documents of what the water did.

What is reckoned comes from `reckoning`, what is kept from `services`; here it is laid out, added up and drawn.
"""
