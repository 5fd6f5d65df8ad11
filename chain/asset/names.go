package asset

import (
	"fmt"
	"strconv"
	"strings"
)

// segmentName fills in a template for the names of new joints.
func segmentName(template, joint string, n int) string {
	return strings.NewReplacer("{joint}", joint, "{n}", strconv.Itoa(n)).Replace(template)
}

// checkNames says what is wrong with a template.
func checkNames(template string) error {
	if !strings.Contains(template, "{joint}") || !strings.Contains(template, "{n}") {
		return fmt.Errorf("asset: names %q: expected {joint} and {n} in it, as in %q", template, DefaultNames)
	}
	return nil
}

// checkUnsplit refuses a character that has been split before, by its names: its
// limbs carry no weight any more, and detection would look for them in vain.
func (f *File) checkUnsplit(template string) error {
	for _, n := range f.Doc.Nodes {
		first := segmentName(template, n.Name, 1)
		for _, child := range n.Children {
			if n.Name != "" && f.Doc.Nodes[child].Name == first {
				return fmt.Errorf("%s: %q stands below %q: the character has been split before", f.Name, first, n.Name)
			}
		}
	}
	return nil
}
