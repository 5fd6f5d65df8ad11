package asset

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// formerNames is the template that earlier versions had by default.
const formerNames = "{joint}_part{n}"

// segmentName fills in a template for the names of new joints. Where it has
// {side}, that is the joint's side suffix and {joint} the name without it; else
// {joint} is the whole name.
func segmentName(template, joint string, n int) string {
	side := ""
	if strings.Contains(template, "{side}") {
		joint, side = cutSide(joint)
	}
	return strings.NewReplacer("{joint}", joint, "{n}", strconv.Itoa(n), "{side}", side).Replace(template)
}

// sideSuffix is what may be a side at the end of a name: a separator and a word,
// and perhaps a number of its own.
var sideSuffix = regexp.MustCompile(`^(.*[^._\- ])([._\- ]+(\p{L}+)(?:[._\- ]?[0-9]+)?)$`)

// cutSide takes the side suffix off a name: UpperLeg and .L of UpperLeg.L. The
// suffix is empty where the name does not end in a side.
func cutSide(name string) (stem, side string) {
	m := sideSuffix.FindStringSubmatch(name)
	if m == nil {
		return name, ""
	}
	switch dictionary()[plain([]rune(m[3]))] {
	case saysLeft, saysRight:
		return m[1], m[2]
	}
	return name, ""
}

// checkNames says what is wrong with a template.
func checkNames(template string) error {
	if !strings.Contains(template, "{joint}") || !strings.Contains(template, "{n}") {
		return fmt.Errorf("names %q: expected {joint} and {n} in it, as in %q", template, DefaultNames)
	}
	return nil
}

// node finds a limb's joint, as File.node does, and asks after a name that looks
// like the one there is not.
func (d *finder) node(name string) (int, error) {
	node, err := d.file.node(name)
	if err == nil || len(d.file.named[name]) > 0 || strings.HasPrefix(name, "#") {
		return node, err
	}
	near := d.file.nearNames(name)
	if len(near) == 0 {
		near = d.file.namesBeginning(name)
	}
	if len(near) == 0 {
		return node, err
	}
	return node, fmt.Errorf("there is no node %q, did you mean %s?", name, near[0])
}

// namesBeginning are the joints' names that go on from a name, in quotes: what
// leaves out the side is more than a few letters off.
func (f *File) namesBeginning(name string) (out []string) {
	const shortest = 3 // letters that mean something
	for i, n := range f.Doc.Nodes {
		if f.jointNodes[i] && len(name) >= shortest && strings.HasPrefix(strings.ToLower(n.Name), strings.ToLower(name)) {
			out = append(out, fmt.Sprintf("%q", n.Name))
		}
	}
	return out
}

// checkUnsplit refuses a character that has been split before, by its names, with
// this template or one that is or was the default: its limbs carry no weight any
// more, and detection would look for them in vain.
func (f *File) checkUnsplit(template string) error {
	for _, n := range f.Doc.Nodes {
		if n.Name == "" {
			continue
		}
		for _, t := range []string{template, DefaultNames, formerNames} {
			first := segmentName(t, n.Name, 1)
			for _, child := range n.Children {
				if f.Doc.Nodes[child].Name == first {
					return fmt.Errorf("%s: %q stands below %q: the character has been split before", f.Name, first, n.Name)
				}
			}
		}
	}
	return nil
}
