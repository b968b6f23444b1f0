"""What stands in the account's documents: sections of blocks whose texts and figures are finished.

Templates only set them, so HTML and PDF cannot differ. How a block looks is said in `account.documents`; what is
reckoned, in the frames.
"""
