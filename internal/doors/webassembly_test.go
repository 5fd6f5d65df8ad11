package doors

import (
	"testing"

	"github.com/pronate/pronate/internal/fixture/touch"
)

// inWebAssembly runs the module in node, by the wrapper that browsers use.
func inWebAssembly(t *testing.T, ask []limb) [][]answers {
	needs(t, "node")
	touch.Files(t, "../../cmd/libpronate/js/*.js")
	module := build(t, "cmd/libpronate", t.TempDir(), "pronate.wasm", []string{"GOOS=wasip1", "GOARCH=wasm", "CGO_ENABLED=0"}, "-buildmode=c-shared")
	return script(t, ask, "webassembly.mjs", module)
}
