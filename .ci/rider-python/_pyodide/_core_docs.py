"""The classes that documentation is taken from while the interpreter starts: one for all, which answers to any name."""


class _JsProxyMetaClass(type):
    pass


class JsProxy(metaclass=_JsProxyMetaClass):
    """Has whatever is asked for."""

    _js_type_flags = 0

    def __new__(cls, *_given, **_named):
        return super().__new__(cls)

    def __getattr__(self, _name):
        return self


def __getattr__(name):
    if name.startswith("__"):
        raise AttributeError(name)
    return JsProxy


class ConversionError(Exception):
    """A value has no like on the other side."""


class InternalError(Exception):
    """The interpreter contradicts itself."""


class JsNull:
    """What JavaScript's null is here."""

    typeof = "object"

    def __new__(cls):
        return jsnull

    def __repr__(self):
        return "jsnull"

    def __bool__(self):
        return False


jsnull = object.__new__(JsNull)


class JsBigInt(int):
    """A whole number that goes to JavaScript as one of any size."""
