"""Outside values, one YAML file an area; `tests.published` reads them and tells the keys."""
