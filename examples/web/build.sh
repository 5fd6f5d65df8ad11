#!/bin/sh
# Builds the page, from any folder:
#
#   sh examples/web/build.sh          into internal/page/dist, where pronate takes it from
#   sh examples/web/build.sh OUT      into another folder, in place of what is there
#   sh examples/web/build.sh assets   only what Go makes, into examples/web/public
#
# It takes go, and for the page itself node and npm.
set -eu

fail() {
	echo "build.sh: $*" >&2
	exit 1
}

case ${1-} in
-*) fail "$1: expected a folder, or assets" ;;
esac
what=${1-}
web=$(cd "$(dirname "$0")" && pwd)
module=$(cd "$web/../.." && pwd)
case $what in
'') out=$module/internal/page/dist ;;
/*) out=$what ;;
*) out=$PWD/$what ;;
esac

# What is there is removed in the end: that had better be an older page. Sources have an
# index.html as well, and no splitter.wasm beside it.
if [ "$what" != assets ] && [ -d "$out" ] && [ -n "$(find "$out" -mindepth 1 -maxdepth 1 ! -name .gitignore)" ]; then
	[ -f "$out/index.html" ] && [ -f "$out/splitter.wasm" ] && [ ! -e "$out/package.json" ] ||
		fail "$out: holds something else than a built page, expected an empty folder or an older page"
fi

tools='go'
[ "$what" = assets ] || tools='go node npm'
missing=
for tool in $tools; do
	command -v "$tool" >/dev/null || missing="$missing $tool"
done
[ -z "$missing" ] || fail "not found:$missing; building the page takes $tools"

temporary=$(mktemp -d)
trap 'rm -rf "$temporary"' EXIT
trap 'exit 1' HUP INT TERM

# What Go makes. All of it is made anew before any of it is replaced.
made=$temporary/public
mkdir "$made"
cd "$module"
GOOS=wasip1 GOARCH=wasm go build -trimpath -buildmode=c-shared -ldflags='-s -w' -o "$made/pronate.wasm" ./cmd/libpronate &
solver=$!
GOOS=js GOARCH=wasm go build -trimpath -ldflags='-s -w' -o "$made/splitter.wasm" ./examples/web/splitter/wasm &
splitter=$!
# Without GOOS and GOARCH, which go generate sets: this one runs here.
env -u GOOS -u GOARCH go run ./examples/web/splitter/wren "$made/wren.glb" &
wren=$!
packages=
if [ "$what" != assets ]; then
	# npm leaves a note of what it installed; nothing to do where it is the newer one.
	[ "$web/node_modules/.package-lock.json" -nt "$web/package-lock.json" ] || {
		npm ci --prefix "$web" --include=dev --no-audit --no-fund --loglevel=error >&2 &
		packages=$!
	}
fi
bad=
wait "$solver" || bad="$bad pronate.wasm"
wait "$splitter" || bad="$bad splitter.wasm"
wait "$wren" || bad="$bad wren.glb"
[ -z "$packages" ] || wait "$packages" || bad="$bad npm's packages"
[ -z "$bad" ] || fail "could not make:$bad"
cat "$(go env GOROOT)/lib/wasm/wasm_exec.js" "$web/splitter/wasm/throwing.js" >"$made/wasm_exec.js"
mkdir -p "$web/public"
for file in pronate.wasm splitter.wasm wren.glb wasm_exec.js; do
	mv -f "$made/$file" "$web/public/$file"
done
[ "$what" != assets ] || exit 0

# The page. It goes where it belongs when it is whole; .gitignore stays.
cd "$web"
node_modules/.bin/vite build --logLevel warn --outDir "$temporary/dist" --emptyOutDir
mkdir -p "$out"
find "$out" -mindepth 1 -maxdepth 1 ! -name .gitignore -exec rm -rf {} +
cp -R "$temporary/dist/." "$out/"
