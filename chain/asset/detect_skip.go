package asset

import (
	"fmt"
	"strings"
)

// SkippedLimb is a limb that Detect found and does not propose.
type SkippedLimb struct {
	Name   string // as a proposed limb would be called
	Joint  string // by name, or by index as "#12"
	Reason string // to be read after "it is not proposed:"

	Spec LimbSpec // as it would be proposed, for splitting it all the same
}

// String is one line.
func (s SkippedLimb) String() string {
	return fmt.Sprintf("%s (joint %s) is not proposed: %s", scalar(s.Name), scalar(s.Joint), s.Reason)
}

// whyNot says why a bone is not worth a split, "" where it may be. Only clear
// cases are given a reason: no skin takes up the twist. A rigid piece turns as a
// whole. An arm or leg whose skin ends at the joint turns as a whole by the
// joint's own twist, too: there is no skin that joins it to the torso. (The twist
// of a hand is another matter: it wrings the skin between forearm and hand.)
func (d *detector) whyNot(b found) string {
	switch {
	case d.skin.isRigid(b.joint):
		return "its skin moves as one rigid piece"
	case b.tip < 0 && d.skin.isApart(b.joint):
		return "its skin is not joined to the skin of the joints above it"
	}
	return ""
}

// comments are what Detect says besides the limbs, as lines of a limb file.
func (l Limbs) comments() string {
	var b strings.Builder
	if l.SkinUnseen {
		b.WriteString("# This file has no mesh: the limbs were found by names and hierarchy alone.\n# Compare them with what detect says of the file with the body.\n")
	}
	for _, s := range l.Skipped {
		b.WriteString("# " + s.String() + "\n")
	}
	return b.String()
}
