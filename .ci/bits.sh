#!/usr/bin/env bash
# Checks that solved bits are the same on other processors: .ci/bits.sh [TARGET...]
#
# Targets are amd64, amd64-v3, purego, 386, arm64, riscv64, s390x and wasm; all of them
# where none is named. Those of other processors run under qemu-user (Debian:
# qemu-user-static), wasm under node.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

packages=$(grep -rl --include='*_test.go' 'func TestSameBits' . | xargs -n 1 dirname | sort -u)
[ $# -gt 0 ] || set -- amd64 amd64-v3 purego 386 arm64 riscv64 s390x wasm

# Its own target first, then what go test takes besides.
bits() {
	printf '%-9s' "$1"
	shift
	# shellcheck disable=SC2086
	env CGO_ENABLED=0 "${environment[@]}" go test -count=1 -run SameBits "$@" $packages | awk '
		/^ok/ && !/no tests to run/ { n++; next } { print; bad = 1 }
		END { if (bad) exit 1; print n " packages agree" }'
}

for target in "$@"; do
	environment=()
	case $target in
	amd64) environment=(GOAMD64=v1) && bits "$target" ;;
	amd64-v3) environment=(GOAMD64=v3) && bits "$target" ;;
	386) environment=(GOARCH=386) && bits "$target" ;;
	purego) bits "$target" -tags purego ;;
	arm64) environment=(GOARCH=arm64) && bits "$target" -exec qemu-aarch64-static ;;
	riscv64 | s390x) environment=(GOARCH="$target") && bits "$target" -exec "qemu-$target-static" ;;
	wasm) environment=(GOOS=js GOARCH=wasm) && bits "$target" -exec "$(go env GOROOT)/lib/wasm/go_js_wasm_exec" ;;
	*)
		echo ".ci/bits.sh: $target is no target, expected amd64, amd64-v3, purego, 386, arm64, riscv64, s390x or wasm" >&2
		exit 2
		;;
	esac
done
