package asset

import (
	"fmt"
	"math"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/rest"
	"gonum.org/v1/gonum/spatial/r3"
)

// warningf is a sentence about a limb that needs an eye; with its place where it
// came from a limb file.
func (s LimbSpec) warningf(key, format string, args ...any) string {
	text := fmt.Sprintf("limb %q: %s", s.Name, fmt.Sprintf(format, args...))
	if s.place != nil {
		text = s.where("", key) + ": " + text
	}
	return text
}

// warnings are what a limb says that may be meant, and seldom is.
func (d *finder) warnings(l *limb) (out []string) {
	if text := l.spec.Shares.warning(); text != "" {
		out = append(out, l.spec.warningf("shares", "%s", text))
	}
	if text := d.bendBetween(l); text != "" {
		out = append(out, l.spec.warningf("end", "%s", text))
	}
	if l.note != "" {
		out = append(out, l.spec.warningf("range", "%s", l.note))
	} else if beyond := l.beyondAtRest(); beyond >= tellBeyond {
		out = append(out, l.spec.warningf("range", "at rest the bone is already %.0f degrees outside its range; clips are told of that leave it by more", beyond*180/math.Pi))
	}
	return out
}

// warning says what is odd about shares that are in order.
func (s Shares) warning() string {
	for i := 1; i < len(s.List); i++ {
		if s.List[i] < s.List[i-1] {
			return fmt.Sprintf("shares fall from %g to %g at segment %d, expected shares that grow from the root to the end, such as [0, 0.5, 1]", s.List[i-1], s.List[i], i+1)
		}
	}
	if len(s.List) > 0 && slices.Min(s.List) == slices.Max(s.List) {
		return fmt.Sprintf("shares are %g all along, so that no segment turns against another, expected shares that grow from the root to the end, such as [0, 0.5, 1]", s.List[0])
	}
	return ""
}

// tellBend is by how much a joint between a limb's joint and its end has to
// bend the bone to be told of, in radians. A joint that only shares out twist
// turns about the bone, and bends nothing but its own rounding.
const tellBend = math.Pi / 180

// bendBetween tells of the joint between a limb's joint and its end that bends
// most, at the keys of any clip. A character without clips bends nowhere.
func (d *finder) bendBetween(l *limb) string {
	if l.spec.End.Point != nil {
		return ""
	}
	end, err := d.file.node(l.spec.End.Joint)
	if err != nil {
		return "" // it was found before
	}
	way := d.file.down(l.joint, end)
	most, worst, in := tellBend, -1, ""
	for i, node := range way[:len(way)-1] {
		from := walk{way[i+1:], d.poses}.matrix(nil, 0).Col(3).Vec3()
		for k := range d.clips {
			c := &d.clips[k]
			tracks := c.nodes[node]
			if tracks == nil || tracks.rotation == nil || from == (mgl64.Vec3{}) {
				continue
			}
			to := rest.VecFromMgl64(from)
			still := rest.Frame{Rotation: d.rest[node].rotation}.Direction(to)
			for _, t := range tracks.rotation.times {
				bent := rest.Frame{Rotation: tracks.rotation.rotation(t)}.Direction(to)
				if angle := 2 * math.Atan2(r3.Norm(r3.Sub(bent, still)), r3.Norm(r3.Add(bent, still))); angle > most {
					most, worst, in = angle, node, c.name
				}
			}
		}
	}
	if worst < 0 {
		return ""
	}
	between := d.file.ref(worst)
	return fmt.Sprintf("end is %q, and %q between bends by up to %.0f degrees in clip %q, which no segment follows; expected end: %s", l.spec.End.Joint, between, most*180/math.Pi, in, between)
}

// warnStill tells of limbs that were to stretch and that no clip stretches.
func (s *splitter) warnStill() {
	if len(s.source.clips) == 0 {
		return
	}
	for _, l := range s.limbs {
		if x := l.stretching; x != nil && max(l.shape.most-1, 1-l.shape.least) <= s.options.Tolerance {
			s.warnings = append(s.warnings, l.spec.warningf("stretch by", "no clip stretches it: none changes the distance from %q to %q", l.spec.Joint, x.by))
		}
	}
}
