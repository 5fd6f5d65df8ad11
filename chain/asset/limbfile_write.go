package asset

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// limbFileHead explains the keys to whoever opens the file.
const limbFileHead = `# Which bones of a character are split, and how.
#   joint     the joint whose bone is split; "#12" is node 12 of the file
#   end       where the bone ends: a joint below it, or a point [x, y, z] in
#             the joint's frame at rest
#   segments  how many deform joints take its place, 2 to 32, or auto: as many
#             as a list of shares has numbers, or the smallest number that keeps
#             95 % of the radius on this skin, 2 to 6. With auto split leaves a
#             limb whole that would get worse, or would gain nothing; with a
#             number it splits the limb and reports what gets worse
#   twist     own: ramp the joint's own twist, none at the root, all at the end
#             tip: ramp the twist of the joint named in tip, such as a hand
#   shares    how the twist grows along the segments: linear, smooth, or a
#             list of numbers from 0 to 1, one for each segment
#   anchor    what the root end holds on to; left out: the joint's parent
#   centre    the middle of the joint's range of motion: auto, none, or a
#             direction [x, y, z] in the anchor's frame at rest
#   range     the joint's range of motion: hip, shoulder, wrist, clips (what the
#             bone does in the character's clips, and some more), none, or
#             {flexion_deg: [-30, 120], abduction_deg: [-30, 45]}. Limits are
#             measured from the body's directions, or from those of down,
#             forward and out: [x, y, z], in the anchor's frame at rest. Left
#             out: in a character that stands as a person does hip for a thigh,
#             shoulder for an upper arm, none for others; clips in any other
#             character. For animation only, no clinical advice. Where twist is
#             tip a range, a field and a direction for centre are errors
#   field     by which swing the bone gets to where it points: shortest (the
#             shortest arc), centred (by way of the centre), least_roll (rolls
#             least over the range) or balanced (close to the shortest arc, and
#             without a jump opposite the direction at rest). Left out: balanced
#             where the range is known, else shortest; where balanced strains
#             the skin more than no split, split takes shortest
#   stretch   end: the segments follow the end joint when a clip moves it, so
#             that the bone's skin gets longer or shorter and keeps its volume;
#             or another joint that the length is measured to; or
#             {by: end, limits: [0.5, 2], shares: [0.2, 0.3, 0.5], exponent: 0.5}:
#             limits of the length as ratios to rest, parts of the change (left
#             out: equal), and how a section follows (0.5 keeps the volume, 0 the
#             section). Left out: no stretch
#   crease    {at: end, most_m: 0.02, onset_deg: 40, full_deg: 140}: where the
#             end joint folds (at: end), or the joint itself (at: root), ease
#             the limb out of the fold by at most that many metres, from the one
#             angle of closing to the other. Left out: no relief
#   exclude   {meshes: [Pouch], materials: ["#3"], pieces: ["Body/0/12"]}: skin
#             that is left as it was, by the names of meshes, of nodes that show
#             them, or of materials, by "#" and an index, or by connected piece:
#             mesh, primitive and lowest vertex, as split --json has them
#   rigid     the same: skin of which each connected piece moves with one
#             segment, as pieces do that ride on a limb and do not go round it
`

// YAML writes the limb file, with comments that explain its keys. What it
// writes, ParseLimbs reads back as the same limbs, their defaults filled in.
func (l Limbs) YAML() []byte {
	var b strings.Builder
	b.WriteString(limbFileHead)
	b.WriteString(l.comments())
	fmt.Fprintf(&b, "version: %d\n", LimbsVersion)
	if l.Resolved {
		b.WriteString("resolved: true # split takes it as it is and measures nothing\n")
	}
	b.WriteString("limbs:")
	if len(l.Limbs) == 0 {
		b.WriteString(" []")
	}
	b.WriteString("\n")
	for _, spec := range l.Limbs {
		b.WriteString(spec.withDefaults().yaml())
	}
	return []byte(b.String())
}

// yaml writes one limb as an element of the list.
func (s LimbSpec) yaml() string {
	var b strings.Builder
	lead := "  - "
	put := func(key, value string) {
		fmt.Fprintf(&b, "%s%s: %s\n", lead, key, value)
		lead = "    "
	}
	put("name", scalar(s.Name))
	put("joint", scalar(s.Joint))
	if s.End.Point != nil {
		put("end", numberList(s.End.Point[:]))
	} else {
		put("end", scalar(s.End.Joint))
	}
	if s.Segments == 0 {
		put("segments", SegmentsAuto)
	} else {
		put("segments", strconv.Itoa(s.Segments))
	}
	put("twist", scalar(s.Twist))
	if s.Tip != "" {
		put("tip", scalar(s.Tip))
	}
	if s.Shares.List != nil {
		put("shares", numberList(s.Shares.List))
	} else {
		put("shares", scalar(s.Shares.Ramp))
	}
	if s.Anchor != "" {
		put("anchor", scalar(s.Anchor))
	}
	if s.Centre.Direction != nil {
		put("centre", numberList(s.Centre.Direction[:]))
	} else {
		put("centre", scalar(s.Centre.Mode))
	}
	if !s.Range.isZero() {
		put("range", s.Range.yaml())
	}
	if s.Field != "" {
		put("field", scalar(s.Field))
	}
	if s.Stretch != nil {
		put("stretch", s.Stretch.yaml())
	}
	if s.Crease != nil {
		put("crease", s.Crease.yaml())
	}
	for key, parts := range s.skinParts() {
		if parts != nil {
			put(key, parts.yaml())
		}
	}
	return b.String()
}

// Texts that YAML of any version takes for a text when they stand bare: words
// of letters and a few signs inside, none of them a word with a meaning.
var (
	bareText   = regexp.MustCompile(`^[A-Za-z_][A-Za-z0-9_.-]*( [A-Za-z0-9_.-]+)*$`)
	wordOfYAML = regexp.MustCompile(`(?i)^(y|n|yes|no|on|off|true|false|null|nan|inf|infinity)$`)
)

// scalar writes a text, in double quotes unless it can do without.
func scalar(text string) string {
	if bareText.MatchString(text) && !wordOfYAML.MatchString(text) {
		return text
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case strconv.IsPrint(r):
			b.WriteRune(r)
		case r < 0x100:
			fmt.Fprintf(&b, `\x%02x`, r)
		case r < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
