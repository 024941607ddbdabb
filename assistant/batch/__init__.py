"""The pipe: many requests in, one record for each out, in the order in which they came.

`answer_line` is the whole of it for one line: a pure function with no state, which a process pool or any
other machinery may call anywhere. Of the modules, `arrivals` and `rows` read, `forms` and `output` write,
`spread` shares the work out over processes, `run` puts them together and `command` is the command line.
"""

from .arrivals import lines_of
from .records import answer_line, record

__all__ = ["answer_line", "lines_of", "record"]
