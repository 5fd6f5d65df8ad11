#!/bin/sh
# Executes the notebook from its first cell to its last and fails where one of them does.
#
#   run.sh [FOLDER]   leaves twist.html there; without FOLDER nothing is left
#
# It takes jupyter nbconvert, a Python kernel and matplotlib; on Debian:
#   apt-get install jupyter-nbconvert python3-ipykernel python3-matplotlib
# PRONATE can name the command to run; otherwise it is built from this checkout.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
temporary=$(mktemp -d)
trap 'rm -rf "$temporary"' EXIT
trap 'exit 1' HUP INT TERM

if [ -z "${PRONATE:-}" ]; then
	go build -C "$here/../.." -o "$temporary/pronate" ./cmd/pronate
	PRONATE=$temporary/pronate
fi
export PRONATE
export IPYTHONDIR="$temporary/ipython" MPLCONFIGDIR="$temporary/matplotlib" PYDEVD_DISABLE_FILE_VALIDATION=1

# quietly shows what a command prints only when it fails.
quietly() {
	if ! "$@" >"$temporary/log" 2>&1; then
		cat "$temporary/log"
		exit 1
	fi
}

quietly jupyter-nbconvert --execute --to notebook --output-dir "$temporary" "$here/twist.ipynb"
figures=$(grep -c '"image/png":' "$temporary/twist.ipynb" || true)
if [ "$figures" -ne 3 ]; then
	echo "run.sh: expected 3 figures, found $figures"
	exit 1
fi
if [ $# -gt 0 ]; then
	quietly jupyter-nbconvert --to html --output-dir "$1" "$temporary/twist.ipynb"
fi
echo "run.sh: twist.ipynb executed, $figures figures"
