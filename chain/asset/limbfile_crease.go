package asset

import (
	"errors"
	"fmt"
	"math"

	"github.com/goccy/go-yaml/ast"
	"github.com/pronate/pronate/chain"
)

// Crease is how a limb's segments are eased out of the fold of an elbow or a
// knee.
type Crease struct {
	At   string  // where the fold is: "end", at the limb's end joint; "root", at the joint that is split
	Most float64 // metres, the most that the limb moves, more than 0
	// OnsetDeg and FullDeg are by how many degrees the fold has closed from rest
	// where relief begins and where it is whole; both 0: those of
	// chain.CreaseOnset and chain.CreaseFull, which are radians.
	OnsetDeg, FullDeg float64
}

// Places of a fold.
const (
	CreaseAtEnd  = "end"
	CreaseAtRoot = "root"
)

var creaseKeys = []string{"at", "most_m", "onset_deg", "full_deg"}

// defaultCrease has the defaults of all that may be left out.
func defaultCrease() Crease {
	return Crease{OnsetDeg: math.Round(chain.CreaseOnset * 180 / math.Pi), FullDeg: math.Round(chain.CreaseFull * 180 / math.Pi)}
}

func (c *Crease) withDefaults() *Crease {
	if c == nil || c.OnsetDeg != 0 || c.FullDeg != 0 {
		return c
	}
	out := defaultCrease()
	out.At, out.Most = c.At, c.Most
	return &out
}

// check says what is wrong with a limb's crease: the key at fault, and the
// matter, to be read after it.
func (c *Crease) check(limb LimbSpec) (key string, err error) {
	switch {
	case c == nil:
		return "", nil
	case c.At != CreaseAtEnd && c.At != CreaseAtRoot:
		return "at", fmt.Errorf("is %q, expected end or root", c.At)
	case c.At == CreaseAtEnd && limb.End.Point != nil:
		return "at", errors.New("is end, and the limb ends at a point, expected a limb that ends at a joint")
	case !(c.Most > 0 && c.Most*0 == 0):
		return "most_m", fmt.Errorf("is %g, expected metres, more than 0", c.Most)
	}
	return c.checkAngles()
}

func (c *Crease) checkAngles() (key string, err error) {
	switch {
	case !(c.OnsetDeg >= 0 && c.OnsetDeg <= 180):
		return "onset_deg", fmt.Errorf("is %g, expected 0 to 180", c.OnsetDeg)
	case !(c.FullDeg >= 0 && c.FullDeg <= 180):
		return "full_deg", fmt.Errorf("is %g, expected 0 to 180", c.FullDeg)
	case !(c.FullDeg > c.OnsetDeg):
		return "full_deg", fmt.Errorf("is %g, expected more than onset_deg, %g", c.FullDeg, c.OnsetDeg)
	}
	return "", nil
}

// crease reads a limb's crease. What is wrong within the whole limb, check
// finds.
func (r limbReader) crease(n ast.Node) (*Crease, error) {
	if !isMapping(n) {
		return nil, r.at(n, "crease is %s, expected a mapping of at, most_m, onset_deg, full_deg", shown(n))
	}
	entries, err := r.mapping(n, "at, most_m, onset_deg, full_deg", creaseKeys)
	if err != nil {
		return nil, err
	}
	if _, ok := entries["at"]; !ok {
		return nil, r.at(n, "the crease has no at, expected end or root, such as at: end")
	}
	if _, ok := entries["most_m"]; !ok {
		return nil, r.at(n, "the crease has no most_m, expected metres, such as most_m: 0.02")
	}
	out := defaultCrease()
	if out.At, err = r.textOr("crease at", entries["at"].value, "end or root"); err != nil {
		return nil, err
	}
	for _, f := range []struct {
		key string
		to  *float64
	}{{"most_m", &out.Most}, {"onset_deg", &out.OnsetDeg}, {"full_deg", &out.FullDeg}} {
		e, ok := entries[f.key]
		if !ok {
			continue
		}
		if *f.to, err = r.oneNumber("crease "+f.key, e.value); err != nil {
			return nil, err
		}
	}
	// Angles of 0 stand for the default in a LimbSpec, never in a file.
	if key, err := out.checkAngles(); err != nil {
		return nil, r.at(innerNode(n, key), "crease %s %v", key, err)
	}
	return &out, nil
}

// yaml writes the crease as a limb file has it.
func (c *Crease) yaml() string {
	numbers := [3]string{}
	for i, x := range []float64{c.Most, c.OnsetDeg, c.FullDeg} {
		numbers[i] = numberText(x)
	}
	return fmt.Sprintf("{at: %s, most_m: %s, onset_deg: %s, full_deg: %s}", scalar(c.At), numbers[0], numbers[1], numbers[2])
}
