def felt_by(*a):
    return None


def squared_up(now, *a):
    return now
