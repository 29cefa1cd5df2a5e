"""Running a text as Python."""

from _ast import Expr, Expression, PyCF_ONLY_AST


def eval_code(source, globals=None, locals=None, *, filename="<exec>", **_how):
    """Run the text; what comes of its last expression, where it ends in one."""
    space = {} if globals is None else globals
    inner = space if locals is None else locals
    tree = compile(source, filename, "exec", PyCF_ONLY_AST)
    last = tree.body.pop() if tree.body and isinstance(tree.body[-1], Expr) else None
    exec(compile(tree, filename, "exec"), space, inner)
    return None if last is None else eval(compile(Expression(last.value), filename, "eval"), space, inner)
