"""Ten laws that a verdict must keep, held over random rigs with a model of statics of its own."""
