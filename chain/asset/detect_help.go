package asset

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/pronate/pronate/internal/printable"
)

// NoLimbsError says that [Detect] found no limbs. Its text is several lines: the
// first stands alone, the rest shows the joints and how to write a limb file.
type NoLimbsError struct {
	File string // its name
	Help string // the lines after the first
}

// Error is all of the text.
func (e *NoLimbsError) Error() string {
	return e.File + ": found no arms or legs by the names of its joints, expected a limb file that names them\n" + e.Help
}

// noLimbs draws up the help: the joints as a tree with the lengths of their
// bones, and a limb file for one of them.
func (d *detector) noLimbs() error {
	var b strings.Builder
	b.WriteString("\nIts joints, and how far each is from the one above:\n\n")
	d.tree(&b)
	joint, end := d.longest()
	if joint < 0 {
		return &NoLimbsError{File: d.file.Name, Help: b.String()}
	}
	example := LimbSpec{Name: "first limb", Joint: d.file.ref(joint), End: End{Joint: d.file.ref(end)}}
	fmt.Fprintf(&b, `
A limb file names the joint whose bone is split and the joint where the bone
ends. This one would split the longest bone above; put it in a file, correct the
names, and add an entry for each limb:

version: %d
limbs:
%s
For a forearm write "twist: tip" and "tip:" with the joint of the hand.
`, LimbsVersion, example.withDefaults().yaml())
	return &NoLimbsError{File: d.file.Name, Help: strings.TrimRight(b.String(), "\n")}
}

// tree lists the first joints, each under the one above it.
func (d *detector) tree(b *strings.Builder) {
	const (
		mostLines = 24
		deepest   = 10
		widest    = 40
	)
	type line struct{ node, above, depth int }
	var stack []line
	push := func(nodes []int, above, depth int) {
		for _, node := range slices.Backward(nodes) {
			stack = append(stack, line{node, above, depth})
		}
	}
	var roots []int
	for node, parent := range d.file.parent {
		if parent < 0 {
			roots = append(roots, node)
		}
	}
	push(roots, -1, 0)
	lines := 0
	for len(stack) > 0 {
		at := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		children := d.file.Doc.Nodes[at.node].Children
		if !d.joints[at.node] {
			push(children, at.above, at.depth)
			continue
		}
		if lines == mostLines {
			fmt.Fprintf(b, "  … and %d more\n", len(d.joints)-lines)
			return
		}
		lines++
		name := []rune(printable.Text(d.file.ref(at.node)))
		if len(name) > widest {
			name = append(name[:widest-1], '…')
		}
		label := strings.Repeat("  ", 1+min(at.depth, deepest)) + string(name)
		if at.above < 0 {
			fmt.Fprintln(b, label)
		} else {
			fmt.Fprintf(b, "%-44s %.3g\n", label, d.length(at.above, at.node))
		}
		push(children, at.node, at.depth+1)
	}
}

// longest is the longest bone between two joints that deforms something, or
// any where none does; -1 where no joint has another below it.
func (d *detector) longest() (joint, end int) {
	joint, end = -1, -1
	best, bestWeighted := -1., false
	for node := range d.order {
		parent := d.file.parent[node]
		if !d.joints[node] || parent < 0 || !d.joints[parent] {
			continue
		}
		length, weighted := d.length(parent, node), d.skin.moved[parent] > 0
		if weighted && !bestWeighted || weighted == bestWeighted && length > best {
			joint, end, best, bestWeighted = parent, node, length, weighted
		}
	}
	return joint, end
}

// nearNames are up to three joints' names that look like name, in quotes.
func (f *File) nearNames(name string) []string {
	const (
		most     = 3
		longest  = 64   // runes compared
		mostSeen = 4096 // names compared
	)
	type candidate struct {
		name     string
		distance int
	}
	want := []rune(strings.ToLower(name))
	want = want[:min(len(want), longest)]
	var near []candidate
	joints := f.jointNodes
	seen := map[string]bool{"": true}
	for i, n := range f.Doc.Nodes {
		if !joints[i] || seen[n.Name] || len(seen) > mostSeen {
			continue
		}
		seen[n.Name] = true
		other := []rune(strings.ToLower(n.Name))
		if len(other) > longest {
			continue
		}
		if edits := editDistance(want, other); edits <= max(1, len(want)/3) {
			near = append(near, candidate{n.Name, edits})
		}
	}
	slices.SortStableFunc(near, func(a, b candidate) int { return cmp.Compare(a.distance, b.distance) })
	var out []string
	for _, c := range near[:min(len(near), most)] {
		out = append(out, fmt.Sprintf("%q", c.name))
	}
	return out
}

// editDistance is the least number of letters put in, taken out or changed
// that turns a into b (Levenshtein 1966, from memory).
func editDistance(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range a {
		diagonal := row[0]
		row[0] = i + 1
		for j, y := range b {
			change := diagonal
			if x != y {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}
