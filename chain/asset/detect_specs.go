package asset

import "fmt"

// sidesByPlace tells left from right where names do not, for two bones of a
// kind that lie apart.
func (d *detector) sidesByPlace(all []found) {
	const apart = 0.01 // of the character
	for _, part := range []role{thigh, upperArm, forearm} {
		for _, foreleg := range []bool{false, true} {
			var open []int
			for i, b := range all {
				if b.part == part && b.foreleg == foreleg && b.side == 0 {
					open = append(open, i)
				}
			}
			if len(open) != 2 {
				continue
			}
			a, b := &all[open[0]], &all[open[1]]
			across := d.file.facing() * (d.place[a.joint][0] - d.place[b.joint][0])
			switch {
			case across > apart*d.extent:
				a.side, b.side = 1, -1
			case across < -apart*d.extent:
				a.side, b.side = -1, 1
			}
		}
	}
}

// specs writes the bones as limbs, in their order, each with a name of its own.
func (d *detector) specs(all []found) []LimbSpec {
	person := d.standsLikePerson(all)
	used := map[string]int{}
	var out []LimbSpec
	for _, b := range all {
		name := limbName(b)
		if used[name]++; used[name] > 1 {
			name = fmt.Sprintf("%s %d", name, used[name])
		}
		s := LimbSpec{
			Name: name, Joint: d.file.ref(b.joint), End: End{Joint: d.file.ref(b.end)},
			Twist: TwistOwn, Shares: Shares{Ramp: SharesLinear}, Centre: Centre{Mode: CentreAuto},
		}
		if parent := d.file.parent[b.joint]; parent >= 0 {
			s.Anchor = d.file.ref(parent)
		}
		s.Range = d.rangeOf(b, person)
		if b.tip >= 0 {
			s.Twist, s.Tip, s.Centre.Mode = TwistTip, d.file.ref(b.tip), CentreNone
		}
		out = append(out, s)
	}
	return out
}

// limbName is what people call the bone.
func limbName(b found) string {
	part := map[role]string{thigh: "thigh", upperArm: "upper arm", forearm: "forearm"}[b.part]
	if b.foreleg {
		part = map[role]string{thigh: "thigh", upperArm: "upper foreleg", forearm: "lower foreleg"}[b.part]
	}
	switch b.side {
	case 1:
		return "left " + part
	case -1:
		return "right " + part
	}
	return part
}
