"""``cardgen completion``: a script that lets the shell complete commands, flags, rigs and codes."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable

from cardgen.commands.exits import Exit

HELP = "print the completion script of a shell"
SHELLS = ("bash", "zsh", "fish")
_ABOUT = """\
Print a script that lets a shell complete commands, flags, names of rigs and codes.

  bash:  cardgen completion bash > ~/.local/share/bash-completion/completions/cardgen
  zsh:   cardgen completion zsh > DIR/_cardgen   (DIR one of $fpath, before compinit)
  fish:  cardgen completion fish > ~/.config/fish/completions/cardgen.fish

Write it anew after an update of cardgen."""


def add(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments."""
    parser.description = _ABOUT
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("shell", choices=SHELLS, metavar="SHELL", help="bash, zsh or fish")


def run(args: argparse.Namespace) -> int:
    """Print the script."""
    sys.stdout.write(script(args.shell, args.top))
    return Exit.FINE


def script(shell: str, top: argparse.ArgumentParser) -> str:
    """Make the completion script of a shell.

    Args:
        shell: one of ``SHELLS`` [-].
        top: the parser of all commands.
    """
    import shtab

    _teach(top)
    made = str(shtab.complete(top, shell, preamble=_preamble(shell)))
    # For zsh shtab completes only the first of several positional arguments.
    return made.replace('"(*)::', '"*:') + "\n" if shell == "zsh" else made + "\n"


def _teach(parser: argparse.ArgumentParser) -> None:
    """Tell every argument what may stand there, by the name it has in the help."""
    import shtab

    known = {
        "RIG": _call("_cardgen_rigs"),
        "FOLDER": shtab.DIRECTORY,
        "FILE": shtab.FILE,
        "ID,ID": _call("_cardgen_cards"),
        "SIZE": _call("_cardgen_sizes"),
        "DEMO": _call("_cardgen_demos"),
        "CODE": _call("_cardgen_codes"),
    }
    for action in parser._actions:  # argparse has no public list of them
        if isinstance(action, argparse._SubParsersAction):
            for inner in action.choices.values():
                _teach(inner)
        elif action.metavar in known and not action.choices:
            action.complete = known[str(action.metavar)]  # type: ignore[attr-defined]  # shtab's way


def _call(function: str) -> dict[str, str]:
    return {"bash": function, "zsh": function, "fish": f"({function})"}


def words() -> dict[str, list[str]]:
    """Fixed lists of words by the function that completes them."""
    from cardgen.commands.demo import demo_rigs
    from cardgen.commands.topics import topics
    from cardgen.present.cards import KINDS
    from cardgen.render.sizes import CHOICES

    codes = {topic.name for topic in topics() if topic.kind not in ("field", "feature", "phase")}
    groups = {topic.name for topic in topics() if topic.kind == "field" and "<" not in topic.name}
    return {
        "_cardgen_cards": list(KINDS),
        "_cardgen_sizes": list(CHOICES),
        "_cardgen_demos": sorted(path.stem for path in demo_rigs().glob("*.yaml")),
        "_cardgen_codes": sorted(codes | {name for name in groups if "[" not in name}),
    }


def _preamble(shell: str) -> str:
    lists = {"bash": _BASH_LIST, "zsh": _ZSH_LIST, "fish": _FISH_LIST}[shell]
    rigs = {"bash": _BASH_RIGS, "zsh": _ZSH_RIGS, "fish": _FISH_RIGS}[shell]
    return rigs + "".join(lists.format(name=name, words=_joined(found)) for name, found in words().items())


def _joined(found: Iterable[str]) -> str:
    return " ".join(found)


_BASH_RIGS = """\
_cardgen_rigs() {
  local at folder=rigs file name
  for ((at = 1; at < COMP_CWORD; at++)); do
    if [[ ${COMP_WORDS[at]} == --rigs-dir ]]; then
      folder=${COMP_WORDS[at + 1]}
      [[ $folder == = ]] && folder=${COMP_WORDS[at + 2]}
    fi
  done
  for file in "$folder"/*.yaml; do
    name=${file##*/}
    name=${name%.yaml}
    [[ -e $file && $name == "$1"* ]] && printf '%s\\n' "$name"
  done
  [[ $1 == */* ]] && compgen -f -X '!*.y*ml' -- "$1"
}
"""
_ZSH_RIGS = """\
_cardgen_rigs() {
  local folder=rigs at
  at=${words[(I)--rigs-dir]}
  (( at )) && folder=${words[at + 1]}
  local -a names
  names=(${folder}/*.yaml(N:t:r))
  compadd -a names
  [[ $PREFIX == */* ]] && _files -g '*.y*ml'
}
"""
_FISH_RIGS = """\
function _cardgen_rigs
  set -l folder rigs
  set -l given (commandline -opc)
  set -l at (contains -i -- --rigs-dir $given)
  and set folder $given[(math $at + 1)]
  for file in $folder/*.yaml
    string replace -r '.*/(.*)\\\\.yaml$' '$1' -- $file
  end
end
"""
_BASH_LIST = '{name}() {{\n  compgen -W "{words}" -- "$1"\n}}\n'
_ZSH_LIST = "{name}() {{\n  compadd -- {words}\n}}\n"
_FISH_LIST = "function {name}\n  printf '%s\\n' {words}\nend\n"
