#!/usr/bin/env bash
# Checks that the packages depend on one another in one direction only.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

module=$(go list -m)

# Prints "package import" for each import in the given lists, our own packages
# without the module's path.
pairs() {
	local list
	for list in "$@"; do
		go list -f "{{range .$list}}{{\$.ImportPath}} {{.}}{{\"\\n\"}}{{end}}" ./...
	done | sed "s|$module/||g" | sort -u
}

# Reads pairs and complains of each import that a package's line in the table
# below does not have. A word there allows a package of ours or, with a dot in
# it, a module and all its packages; the standard library is always allowed.
only() {
	awk -v table="$1" -v what="$2" '
		BEGIN {
			n = split(table, lines, "\n")
			for (i = 1; i <= n; i++) {
				m = split(lines[i], words, " ")
				for (j = 2; j <= m; j++) allowed[words[1], words[j]] = known[words[1]] = 1
			}
		}
		$1 in known {
			split($2, path, "/")
			ours = path[1] ~ /^(twist|swing|rest|chain|cmd|internal|examples|bench)$/
			if (!ours && path[1] !~ /\./) next
			for (name = $2; ; sub(/\/[^\/]*$/, "", name)) {
				if (($1, name) in allowed) next
				if (ours || name !~ /\//) break
			}
			print $1 " " what " " $2
		}'
}

core='twist gonum.org/v1/gonum
internal/steady gonum.org/v1/gonum
swing gonum.org/v1/gonum twist internal/bicubic internal/steady
internal/kernel gonum.org/v1/gonum twist swing internal/bicubic internal/steady
rest gonum.org/v1/gonum github.com/go-gl/mathgl twist swing internal/kernel internal/steady
chain gonum.org/v1/gonum github.com/go-gl/mathgl twist swing rest internal/kernel internal/steady internal/parallel'

# Tests may also use the helpers, the test libraries and the core packages.
helpers='gonum.org/v1/gonum github.com/go-gl/mathgl github.com/stretchr/testify pgregory.net/rapid twist swing rest internal/bicubic internal/steady internal/kernel internal/oracle internal/oracle/draw'
tests=$(awk -v more="$helpers" '{ print $1, $1, more }' <<<"$core")
# What a field rolls, the tests of chain measure as users do.
tests+=$'\nchain chain/sweep'

plain=$(pairs Imports)
tested=$(pairs TestImports XTestImports)
wrong=$(
	only "$core" imports <<<"$plain"
	only "$tests" 'tests with' <<<"$tested"
	# Nothing stands on a command.
	awk '$2 ~ /^cmd(\/|$)/ { print $1 " imports " $2 }' <<<"$plain"$'\n'"$tested"
	# Nor on an example, but that the doors' test asks the page's splitter what the page
	# does; and the page, megabytes where it was built, is the command's alone.
	awk '$2 ~ /^examples(\/|$)/ && $1 !~ /^examples(\/|$)/ && $0 != "internal/doors examples/web/splitter" || $2 == "internal/page" && $1 != "cmd/pronate" {
		print $1 " imports " $2 }' <<<"$plain"$'\n'"$tested"
	# chain/skin, chain/sweep and chain/asset in this order.
	awk '$1 == "chain/skin" && $2 ~ /^chain\/(sweep|asset)/ || $1 == "chain/sweep" && $2 ~ /^chain\/asset/ {
		print $1 " imports " $2 }' <<<"$plain"
	# What is made for tests is used by tests and by its own kind alone, but that
	# the benchmarks hold all sides to the exact answers.
	awk '$2 ~ /^internal\/(oracle|fixture|player)(\/|$)/ && $1 !~ /^internal\/(oracle|fixture|player)(\/|$)/ && $0 != "bench internal/oracle" {
		print $1 " imports " $2 " outside its tests" }' <<<"$plain"
	awk '$1 !~ /^(bench|internal\/(oracle|fixture|player))(\/|$)/ && $2 ~ /^(github.com\/stretchr\/testify|pgregory.net\/rapid|testing)(\/|$)/ {
		print $1 " imports " $2 " outside its tests" }' <<<"$plain"
)
if [ -n "$wrong" ]; then
	echo "$wrong"
	exit 1
fi
echo "$(wc -l <<<"$plain") imports point the right way"
