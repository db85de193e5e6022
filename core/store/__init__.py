"""Where things are kept: tables, transactions, and the two queues.

One function is one transaction: ``async with store.begin() as tx``. Nothing in here reads a clock or speaks to anybody.
"""
