#!/bin/sh
# Builds Pronate's C library and the hosts in a temporary folder and runs them.
#
#   run.sh          all of it: plain, under sanitizers, under valgrind, the soak, Python
#   run.sh quick    the frame loop for a second of game time, in C, C++ and Python
#
# It takes Go and a C compiler; what else is missing is skipped with a line.
# CC, CXX, SOAK (calls; ten million) and OUT (a folder to build in and keep) can be set.
set -eu
what=${1:-all}
case $what in
all | quick) ;;
*)
	echo "usage: run.sh [quick]" >&2
	exit 2
	;;
esac
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
cc=${CC:-gcc}
cxx=${CXX:-g++}
out=${OUT:-}
if [ -z "$out" ]; then
	out=$(mktemp -d)
	trap 'rm -rf "$out"' EXIT
	trap 'exit 1' HUP INT TERM
fi

step() { printf '\n== %s\n' "$1"; }
have() { command -v "$1" >/dev/null 2>&1 || {
	echo "skipped: there is no $1"
	return 1
}; }

# compile COMPILER LANGUAGE STANDARD OUTPUT [FLAG...]: with what follows linked in.
compile() {
	compiler=$1 language=$2 standard=$3 output=$4
	shift 4
	set -- "$@" -pthread
	for source in "$here"/host/*.c; do
		object=$out/$(basename "$source" .c).o
		"$compiler" -x "$language" "-std=$standard" -O2 -g -Wall -Wextra -Werror -pedantic \
			-I "$root/cmd/libpronate" "$@" -c -o "$object" "$source"
	done
	"$compiler" "$@" -o "$out/$output" "$out"/*.o $link
	rm "$out"/*.o
}

# run HOST [ARGUMENT...], in the wrapper if there is one.
wrapper=
run() {
	program=$1
	shift
	$wrapper "$out/$program" --table "$here/expected.txt" "$@"
}

# briefly is run with only the lines that say how it went, unless it went wrong.
briefly() {
	if ! run "$@" >"$out/log" 2>&1; then
		cat "$out/log"
		exit 1
	fi
	grep -E 'frames of|median|soak:|all as' "$out/log"
}

step 'the library, static and shared'
cd "$root"
CGO_ENABLED=1 go build -buildmode=c-archive -o "$out/libpronate.a" ./cmd/libpronate
CGO_ENABLED=1 go build -buildmode=c-shared -o "$out/libpronate.so" ./cmd/libpronate
wc -c "$out/libpronate.a" "$out/libpronate.so"

amount=
[ "$what" = all ] || amount=--quick

step 'C11, static library'
link=$out/libpronate.a
compile "$cc" c c11 host
run host $amount

step 'C11, shared library'
link="-L$out -lpronate -Wl,-rpath,$out"
compile "$cc" c c11 host-shared
briefly host-shared --quick

step 'C++17, static library'
link=$out/libpronate.a
if have "$cxx"; then
	compile "$cxx" c++ c++17 host-cpp
	briefly host-cpp --quick
fi

step 'Python'
if have python3; then
	python3 -B "$here/host.py" "$out/libpronate.so" "$here/expected.txt"
fi
[ "$what" = all ] || exit 0

step 'the library without assembly: slower, same bits'
mkdir "$out/plain"
CGO_ENABLED=1 go build -tags purego -buildmode=c-archive -o "$out/plain/libpronate.a" ./cmd/libpronate
link=$out/plain/libpronate.a
compile "$cc" c c11 host-plain
briefly host-plain --frames 600

# The library is built anew, with the sanitizer in its Go code too, so that it is caught
# when it strays beyond the host's arrays. (Its assembly has no sanitizer; valgrind, below,
# sees that.) Leaks are those of malloc's memory: Go's heap lies elsewhere, and what
# malloc gave is never held from there alone. What is freed ASan keeps aside for a while,
# which the soak would take for a leak, so it is told to keep little.
step 'address and undefined-behaviour sanitizers, leaks'
sanitize='-fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer'
if printf 'int main(void) { return 0; }\n' >"$out/try.c" && "$cc" $sanitize -o "$out/try" "$out/try.c" 2>/dev/null; then
	mkdir "$out/sanitized"
	CGO_ENABLED=1 go build -asan -buildmode=c-archive -o "$out/sanitized/libpronate.a" ./cmd/libpronate
	link=$out/sanitized/libpronate.a
	compile "$cc" c c11 host-sanitized $sanitize
	export ASAN_OPTIONS=detect_leaks=1:quarantine_size_mb=1:thread_local_quarantine_size_kb=16
	briefly host-sanitized --quick
	briefly host-sanitized --soak 200000
	unset ASAN_OPTIONS
else
	echo "skipped: $cc has no sanitizers"
fi

# Valgrind does not follow how the Go runtime uses memory of its own: goroutines' stacks
# lie close together and move, which it takes for one stack that grows and shrinks, and
# what it says of them differs from run to run (Go's build tag valgrind changes little).
# So only two things count: straying into or beyond what malloc gave, as all of the
# host's arrays are, and what is definitely lost. Interruptions by signal and garbage
# collection are off, which spares thousands of lines of the other kind. Debug information
# goes, as valgrind 3.19 cannot read Go's.
step 'valgrind'
if have valgrind; then
	link="$out/libpronate.a -Wl,--strip-debug"
	compile "$cc" c c11 host-valgrind
	export GODEBUG=asyncpreemptoff=1 GOGC=off
	wrapper="valgrind --quiet --log-file=$out/valgrind.log --error-limit=no
		--leak-check=full --show-leak-kinds=definite"
	for what in '--frames 2' '--soak 5000'; do
		briefly host-valgrind $what
		if grep -B 12 -E 'a block of size|definitely lost in' "$out/valgrind.log"; then
			exit 1
		fi
		echo "valgrind: nothing beyond malloc's blocks, nothing lost"
	done
	unset GODEBUG GOGC
	wrapper=
fi

step 'soak'
run host --soak "${SOAK:-10000000}"

printf '\nrun.sh: all passed\n'
