"""How a sleeve sits on its wearer: what is off, the folds that come of it, and the signs that tell causes apart."""
