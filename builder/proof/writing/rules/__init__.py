"""One rule a file: its documentation with passing and failing examples, its source, its limit and its check."""
