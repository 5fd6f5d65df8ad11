#!/usr/bin/env bash
# Checks that nothing on the way from a limb to its solver can differ between
# processors: .ci/fused.sh
#
# It compiles for arm64, where Go fuses what it may, and looks for fused
# instructions, and for calls of what is not ours and rounds by the processor.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

temporary=$(mktemp -d)
trap 'rm -rf "$temporary"' EXIT
CGO_ENABLED=0 GOARCH=arm64 go test -c -o "$temporary/" ./swing ./rest ./chain
for tests in "$temporary"/*.test; do
	go tool objdump -s 'pronate/(swing|rest|chain|internal/(steady|bicubic|kernel))\.' "$tests"
done >"$temporary/code"
awk -v root="$PWD/" '
	/^TEXT/ {
		name = $2; file = $3
		sub(/^.*pronate\//, "", name); sub(/\(SB\)$/, "", name)
		if (index(file, root) == 1) file = substr(file, length(root) + 1)
		# Mat4.Mat3 copies. Of chain all but what stands beside the law.
		looked = file !~ /_test\.go$/ && (file ~ /^(swing|rest|internal\/(steady|bicubic|kernel))\// ||
			file ~ /^chain\/[a-z_]*\.go$/ && file !~ /^chain\/(crease|hinge|stretch)/)
		functions += looked
		next
	}
	!looked { next }
	/FN?M(ADD|SUB)[SD]/ || /CALL gonum\.org/ || /CALL github\.com\/go-gl/ && !/Mat4\.Mat3\(/ ||
	tolower($0) ~ /call math\.(arch)?(sin|cos|tan|a|hypot|pow|exp|log|cbrt|fma)/ {
		print name ": " $0; bad = 1
	}
	END {
		if (functions < 100) { print "only " functions " functions found: the names in this script are out of date"; bad = 1 }
		if (!bad) print functions " functions fuse nothing"
		exit bad
	}' "$temporary/code"
