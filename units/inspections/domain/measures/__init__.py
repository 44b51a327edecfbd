"""What the measuring tools work out: pure functions, SI inside, each result with its uncertainty.

Numbers are plain or carry a standard uncertainty (``uncertainties.ufloat``); a result carries what
the GUM's law of propagation makes of its inputs, correlations through shared inputs included.
"""
