"""Calling JavaScript by a signature; all calls go by the default one."""

from _pyodide_core import JsFuncSignature, js2py_default_call_result, py2js_default

no_default = object()


def func_to_sig(_function):
    """Nothing here has a signature of its own."""
    raise NotImplementedError


get_attr_sig = bind_class_sig = func_to_sig


def _anything(*_args, **_kwargs):
    pass


default_signature = JsFuncSignature(
    _anything, False, 0, (), (), py2js_default, (), (), (), py2js_default, js2py_default_call_result
)
