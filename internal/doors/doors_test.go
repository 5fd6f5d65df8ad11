package doors

import (
	"runtime"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// door is a way to have limbs solved.
type door struct {
	name     string
	promises precision
	finds    bool                                   // it finds the limb in Wren itself, and is not told its numbers
	takes    func(testing.TB, limb) func(pose) bool // nil: every row
	answer   func(t *testing.T, ask []limb) [][]answers
}

var doors = []door{
	{name: "Go, batches", promises: both, finds: true, answer: goBatches},
	{name: "Go, one at a time", promises: doubles, finds: true, answer: goSingly},
	{name: "C", promises: both, answer: inC},
	{name: "WebAssembly", promises: both, answer: inWebAssembly},
	{name: "command line, NDJSON", promises: decimals, finds: true, answer: byNDJSON},
	{name: "command line, CSV", promises: decimals, finds: true, answer: byCSV},
	{name: "notebook", promises: decimals, finds: true, answer: inNotebook},
	{name: "page, its solver", promises: doubles, answer: onPage},
	{name: "page, its own limbs", promises: doubles, finds: true, takes: pageHas, answer: onPageItself},
	{name: "live constraints, in Go", promises: constraints, takes: canBeLive, answer: liveInGo},
	{name: "live constraints, three", promises: constraints, takes: canBeLive, answer: liveInThree},
}

// sameWren tells whether limbs found in Wren have the table's numbers to the last bit.
// She is made, and limbs are found in her, with processors' own sines and with products
// that some of them fuse into sums.
const sameWren = runtime.GOARCH == "amd64" || runtime.GOARCH == "386"

// One table, and every door has its answers.
func TestEveryDoor(t *testing.T) {
	table := readTable(t)
	for _, d := range doors {
		if d.finds && !sameWren {
			d.promises = almost
		}
		t.Run(d.name, func(t *testing.T) { d.test(t, table) })
	}
}

func (d door) test(t *testing.T, table []limb) {
	rows := d.rows(t, table)
	got := d.answer(t, questions(rows))
	require.Len(t, got, len(rows), "limbs")
	compared := 0
	for i, l := range rows {
		require.Len(t, got[i], len(l.Poses), "poses of %s", l.Name)
		for k, p := range l.Poses {
			if wrong := d.promises.differ(*p.Want, got[i][k]); wrong != "" {
				t.Errorf("%s, %s: %s", l.Name, p.Name, wrong)
			}
			// Told other bits it must say so, or its silence means nothing.
			for _, spoilt := range d.promises.spoil(*p.Want) {
				require.NotEmpty(t, d.promises.differ(spoilt, got[i][k]), "%s, %s: a wrong bit is not found", l.Name, p.Name)
			}
			compared += l.Segments
		}
	}
	require.NotZero(t, compared)
	t.Logf("%d segments compared", compared)
}

// rows are those that the door takes.
func (d door) rows(t testing.TB, table []limb) (out []limb) {
	t.Helper()
	if d.takes == nil {
		return table
	}
	for _, l := range table {
		takes := d.takes(t, l)
		l.Poses = slices.DeleteFunc(slices.Clone(l.Poses), func(p pose) bool { return !takes(p) })
		if len(l.Poses) > 0 {
			out = append(out, l)
		}
	}
	return out
}
