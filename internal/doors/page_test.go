package doors

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"github.com/pronate/pronate/internal/fixture/touch"
	"github.com/stretchr/testify/require"
)

// onPage has the page's solver solve.
func onPage(t *testing.T, ask []limb) [][]answers { return inChromium(t, ask, "solve") }

// onPageItself turns the limbs that the page has found and split.
func onPageItself(t *testing.T, ask []limb) [][]answers { return inChromium(t, ask, "turn") }

// pageHas leaves out what the page's form cannot ask for, lists of shares, and a
// centre or limits of one's own; and most poses, for each is drawn twice.
func pageHas(t testing.TB, l limb) func(pose) bool {
	t.Helper()
	spec := l.specs(t)[0]
	has := spec.Shares.List == nil && spec.Centre.Direction == nil && spec.Range.FlexionDeg == [2]float64{}
	some := []string{"twisted", "ahead and in", "a short one, of the other sign"}
	return func(p pose) bool { return has && slices.Contains(some, p.Name) }
}

// inChromium opens the page that pronate serves.
func inChromium(t *testing.T, ask []limb, how string) [][]answers {
	needs(t, "node", "chromium")
	if _, err := os.Stat("../page/dist/index.html"); err != nil {
		lacking(t, "the page is not built (go generate ./internal/page)")
	}
	touch.Files(t, "../page/dist/*.*", "../page/dist/assets/*")
	packages, err := filepath.Abs("../../examples/web/package.json")
	require.NoError(t, err)
	if _, err := os.Stat(filepath.Join(filepath.Dir(packages), "node_modules", "playwright-core")); err != nil {
		lacking(t, "there is no playwright-core in examples/web/node_modules (npm ci --prefix examples/web)")
	}
	browser, err := exec.LookPath("chromium")
	require.NoError(t, err)
	return script(t, ask, "page.mjs", packages, browser, served(t), how)
}

// served has pronate serve the page until the test ends, and gives its address.
func served(t testing.TB) string {
	t.Helper()
	server := exec.Command(pronate(t), "demo", "--page")
	out, err := server.StdoutPipe()
	require.NoError(t, err)
	server.Stderr = &complaints{t}
	require.NoError(t, server.Start())
	t.Cleanup(func() {
		_ = server.Process.Signal(os.Interrupt)
		_ = server.Wait()
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err)
	address := regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(line)
	require.NotEmpty(t, address, line)
	return address
}
