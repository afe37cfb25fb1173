"""The command line: reads what was typed, calls, prints, and gives the exit status. Heavy imports only where used."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

from handwheel.cli.changeoptions import add_options
from handwheel.cli.wrong import DONE, OURS, WRONG, InputWrong, fault_at, one_line, tell

TRACEBACK = "HANDWHEEL_TRACEBACK"
"""Environment variable for developers: set to 1, a fault in handwheel itself is shown whole."""


class Parser(argparse.ArgumentParser):
    """A parser that tells what is wrong with the command line in one line."""

    def error(self, message: str) -> NoReturn:
        """Raise the message as a fault."""
        raise InputWrong([fault_at("command-line", "command line", message, f"see {self.prog} --help")])


def build_parser() -> Parser:
    """The commands and their options."""
    parser = Parser(prog="handwheel", description="From a published drawing to sheets for a manual lathe.")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    make = commands.add_parser("make", help="everything: sheets, drawings and job.json into a folder")
    make.add_argument("job", metavar="JOB", help="the job file")
    make.add_argument("--out", metavar="DIR", help="the folder (left out: beside the job file, its name + ' sheets')")
    make.add_argument("--paper", choices=("a4", "letter"), default="a4", help="the sheets' paper")
    make.add_argument("--dxf", action="store_true", help="also a DXF of every part and stage")
    make.add_argument("--mesh", action="store_true", help="also an STL of every part and its last stage")

    size = commands.add_parser("size", help="sizes, and any question")
    size.add_argument("job", metavar="JOB", help="the job file")
    size.add_argument("--part", metavar="PART", help="only this part")
    size.add_argument("--ask", metavar="PHRASE", action="append", default=[], help="a question; may be repeated")
    other = size.add_mutually_exclusive_group()
    other.add_argument("--from", dest="point", metavar="POINT", help="lengths measured from there, with working limits")
    other.add_argument("--work-to", metavar="PHRASE", action="append", default=[], help="work to this dimension instead")
    other.add_argument("--samples", type=int, metavar="N", help="how sizes scatter over N copies made at random")
    size.add_argument("--spread", choices=("normal", "even"), default="normal", help="how each size of a copy scatters")
    size.add_argument("--json", action="store_true", help="the answer as JSON")

    ask = commands.add_parser("ask", help="a part of one feature, and asked of")
    ask.add_argument("kind", metavar="KIND", help="ball, cone, cylinder, ...")
    ask.add_argument("sayings", metavar="PHRASE: VALUE", nargs="+", help="a dimension, in the job file's words")
    ask.add_argument("--ask", metavar="PHRASE", action="append", default=[], help="a question; may be repeated")
    ask.add_argument("--units", choices=("inch", "mm"), help="how a bare number is read (left out: inch if a fraction is)")
    ask.add_argument("--measured", metavar="PHRASE: VALUE", action="append", default=[],
                     help="what was measured on the ball or cone as cut: what to move")  # fmt: skip
    ask.add_argument("--out-by", metavar="PHRASE: VALUE", action="append", default=[],
                     help="an error of the set-up: what it makes of the ball or cone")  # fmt: skip
    ask.add_argument("--turned", metavar="PHRASE: VALUE", action="append", default=[],
                     help="of a cut on it, for 'how far it bends': material, held, off the diameter, ...")  # fmt: skip
    ask.add_argument("--workshop", metavar="FILE", help="whose tools 'how to set' is told for")

    changed = commands.add_parser("change", help="one value, name or item of a job file, and nothing beside it")
    add_options(changed)

    opened = commands.add_parser("open", help="the sheets as a local page")
    opened.add_argument("job", metavar="JOB", help="the job file")
    opened.add_argument("--port", type=int, default=0, metavar="N", help="the port (left out: any that is free)")
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status; never raises, never shows a traceback."""
    _soften_streams()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # our matrices are small: threads would only wait for each other
    try:
        status = _run(argv)
        sys.stdout.flush()
        return status
    except InputWrong as wrong:
        tell(wrong.faults)
        return WRONG
    except SystemExit as leaving:
        return leaving.code if isinstance(leaving.code, int) else DONE
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return WRONG
    except BrokenPipeError:
        sys.stdout = open(os.devnull, "w")  # noqa: SIM115  the reader of our output has gone: nothing left to tell
        return DONE
    except Exception as error:
        if os.environ.get(TRACEBACK) == "1":
            raise
        told = one_line(f"{type(error).__name__}: {error}")
        print(f"handwheel: a fault in handwheel itself, {told}; please report it with the job file", file=sys.stderr)
        return OURS


def _run(argv: Sequence[str] | None) -> int:
    args = build_parser().parse_args(argv)
    if args.command == "make":
        from handwheel.cli.make import make

        return make(args.job, args.out, args.paper, args.dxf, args.mesh)
    if args.command == "size" and (args.point or args.work_to):
        from handwheel.cli.workto import work_to

        return work_to(args.job, args.part, args.point, args.work_to, args.json)
    if args.command == "size" and args.samples is not None:
        from handwheel.cli.samples import samples

        return samples(args.job, args.part, args.ask, args.samples, args.spread)
    if args.command == "size":
        from handwheel.cli.size import size

        return size(args.job, args.part, args.ask, args.json)
    if args.command == "ask":
        from handwheel.cli.one import ask

        return ask(args.kind, args.sayings, args.ask, args.units, args.measured, args.workshop, args.out_by, args.turned)
    if args.command == "change":
        from handwheel.cli.change import change

        return change(args.job, args.edits, args.show)
    from handwheel.cli.serve import serve

    return serve(args.job, args.port)


def _soften_streams() -> None:
    """Let a console that lacks a sign show `?` for it instead of stopping."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
