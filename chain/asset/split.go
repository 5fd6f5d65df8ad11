package asset

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"

	"github.com/pronate/pronate/chain/skin"
	"github.com/pronate/pronate/internal/parallel"
)

// Options are what a split can be told. The zero value is the default.
type Options struct {
	Limbs      []LimbSpec // what to split; nil means what Detect proposes, and an empty list nothing
	Basis      skin.Basis // how weights hand over from segment to segment
	Influences int        // the most a vertex may have, 4 or 8; 0 means 4
	Tolerance  float64    // radians a baked curve may leave the solver's by, and places and sizes of segments, in bone lengths; 0 means DefaultTolerance
	History    bool       // follow each clip's twist as it comes about, instead of pose by pose
	Names      string     // of the new joints, from {joint}, {n} and, optionally, {side}; "" means DefaultNames

	// Character is the file that holds the skin of the character that a file of clips
	// alone is for. Limbs, rest pose and what no clip moves are the character's; the
	// file's nodes are the character's by name. A file with a skin of its own needs
	// none.
	Character *File

	// AsAsked splits every limb with the settings that it has; nothing is measured.
	AsAsked bool

	Live    Live // whether constraints turn the segments without a clip
	Nearest bool // where Live cannot express a limb's field, bend it by the nearest that can be, in clips too

	skipped []SkippedLimb // by detection

	// Progress, where it is not nil, is told how many of the clips are baked.
	Progress func(done, total int)
}

const (
	// DefaultTolerance is 0.05 degrees: at a thigh's radius of 10 cm it moves
	// the skin by less than 0.1 mm.
	DefaultTolerance = 0.05 * math.Pi / 180
	// DefaultNames makes thigh_segment1_l, thigh_segment2_l, … of thigh_l: {side}
	// is the side at the end of a joint's name, which tools that mirror look for.
	DefaultNames = "{joint}_segment{n}{side}"
)

// Split splits the bones of a character, hands its skin weights to the
// segments and bakes its clips. Unless options say AsAsked it first decides what limbs
// leave open, as [Choose] does. The source is left as it was, and returned where
// there is nothing to split.
//
// Segments are leaf joints below the split joint; each stands on the bone and
// turns about its long axis alone, so hierarchy, channels and the joint's
// children stay what they were, and so does everything else in the file. Where
// a limb asks for it segments also move and scale: with a bone that clips make
// longer or shorter, and out of a fold.
//
// Errors name the file and the limb, joint, clip or accessor at fault.
func Split(f *File, options Options) (*File, Report, error) {
	options, err := options.checked(f)
	if err != nil {
		return nil, Report{}, err
	}
	var choices []Choice
	if !options.AsAsked && !f.HasSkin() && options.Character != nil {
		limbs, decided, err := Choose(options.Character, func(yield func(*File, error) bool) { yield(f, nil) }, options)
		if err != nil {
			return nil, Report{}, err
		}
		options.Limbs, choices = limbs.Limbs, decided
	}
	if !options.AsAsked && f.HasSkin() {
		if options.Limbs, choices, err = choose(f, options, nil); err != nil {
			return nil, Report{}, err
		}
	}
	choices = append(choices, skippedChoices(options.skipped)...)
	if len(options.Limbs) == 0 {
		return f, Report{Limbs: []LimbReport{}, Clips: []ClipReport{}, Choices: choices, Resolved: resolvedLimbs(nil)}, nil
	}
	s, err := newSplitter(f, options)
	if err != nil {
		return nil, Report{}, err
	}
	if err := s.addSegments(); err != nil {
		return nil, Report{}, err
	}
	if s.nodes == nil { // else the character's own file has them
		if err := s.addLive(); err != nil {
			return nil, Report{}, err
		}
		if err := s.reweight(); err != nil {
			return nil, Report{}, err
		}
	}
	clips, err := s.bake()
	if err != nil {
		return nil, Report{}, err
	}
	s.warnStill()
	out, err := f.readBack(s.patch)
	if err != nil {
		return nil, Report{}, err
	}
	report, err := s.report(out, clips)
	report.Choices, report.Resolved = choices, resolvedLimbs(s.limbs)
	return out, report, err
}

func (o Options) checked(f *File) (Options, error) {
	o.Names = cmp.Or(o.Names, DefaultNames)
	if err := checkNames(o.Names); err != nil {
		return o, err
	}
	o.Influences = cmp.Or(o.Influences, 4)
	if o.Influences != 4 && o.Influences != 8 {
		return o, fmt.Errorf("influences is %d, expected 4 or 8", o.Influences)
	}
	switch {
	case o.Live < NotLive || o.Live > LiveInsteadOfClips:
		return o, fmt.Errorf("live is %d, expected NotLive, LiveBesideClips or LiveInsteadOfClips", o.Live)
	case o.Live != NotLive && o.History:
		return o, errors.New("live constraints know the pose of one moment alone, expected no history with them")
	case o.Live == NotLive && o.Nearest:
		return o, errors.New("nearest says what live constraints may stand in for, expected live with it")
	}
	o.Tolerance = cmp.Or(o.Tolerance, DefaultTolerance)
	if !(o.Tolerance > 0 && o.Tolerance <= math.Pi) {
		return o, fmt.Errorf("tolerance is %g rad, expected more than 0 and at most pi", o.Tolerance)
	}
	if o.Limbs == nil && !f.HasSkin() && o.Character != nil {
		return o, nil // Choose looks for them in the character
	}
	if o.Limbs == nil && !f.HasSkin() {
		return o, fmt.Errorf("%s: no mesh under a skin, so that no split can be measured; expected the file of the character (--character) or a limb file (--limbs)", f.Name)
	}
	if o.Limbs == nil {
		if err := f.checkUnsplit(o.Names); err != nil {
			return o, err
		}
		detected, err := Detect(f)
		if err != nil {
			return o, err
		}
		o.Limbs, o.skipped = detected.Limbs, detected.Skipped
		if o.Limbs == nil {
			o.Limbs = []LimbSpec{}
		}
	}
	return o, nil
}

// splitter carries one split from step to step.
type splitter struct {
	file     *File       // the character: itself what is split, or what clips alone are for
	nodes    map[int]int // from the character's nodes to those of a file of clips; nil without one
	options  Options
	source   *Evaluator
	limbs    []*limb
	patch    *patch
	meshJSON []json.RawMessage // the meshes as they came
	baked    map[string]bakedLimb
	shaped   map[string]bakedShape
	weights  reweighter
	pieces   *pieces        // of all skin
	taken    map[string]int // names of nodes
	warnings []string

	excursions []Excursion
	outOfReach []OutOfReach
}

func newSplitter(f *File, options Options) (*splitter, error) {
	if len(f.Doc.Buffers) == 0 {
		return nil, fmt.Errorf("%s: no buffer, expected a character with data", f.Name)
	}
	character := f
	var nodes map[int]int
	var evaluator *Evaluator
	var err error
	if options.Character != nil && !f.HasSkin() {
		character = options.Character
		evaluator, nodes, err = f.stand(character)
	} else {
		evaluator, err = f.Evaluator()
	}
	if err != nil {
		return nil, err
	}
	patch, err := newPatch(f)
	if err != nil {
		return nil, err
	}
	f = character
	s := &splitter{file: f, nodes: nodes, options: options, source: evaluator, patch: patch, meshJSON: slices.Clone(patch.arrays["meshes"]), weights: reweighter{stats: make([]limbStats, len(options.Limbs))}, baked: map[string]bakedLimb{}, shaped: map[string]bakedShape{}}
	find := newFinder(f, evaluator, options.Names)
	s.taken = find.taken
	if s.pieces, err = find.all(); err != nil {
		return nil, err
	}
	s.warnings = f.tornWarning(find.torn)
	if len(f.Doc.Skins) == 0 {
		s.warnings = append(s.warnings, "the file has no skin: its node pose is taken for the rest pose; with its character (--character) it is that of the character")
		if !options.AsAsked && slices.ContainsFunc(options.Limbs, numberIsOpen) {
			s.warnings = append(s.warnings, "the limb file leaves the number of segments open, and without a skin nothing can be measured: the character's own file may be split into another number; give --character, or the limb file that the character's split writes with --resolved")
		}
	}
	found, errs := make([]*limb, len(options.Limbs)), make([]error, len(options.Limbs))
	parallel.Each(len(found), func(i int) {
		found[i], errs[i] = find.limb(options.Limbs[i])
		if errs[i] == nil && options.Live != NotLive {
			found[i], errs[i] = find.live(found[i], options.Nearest)
		}
		if errs[i] == nil {
			errs[i] = find.setPieces(found[i])
		}
	})
	for i, spec := range options.Limbs {
		l, err := found[i], errs[i]
		if err != nil {
			return nil, err
		}
		if err := find.admit(l, spec); err != nil {
			return nil, err
		}
		if err := find.name(l); err != nil {
			return nil, err
		}
		s.limbs = append(s.limbs, l)
		s.warnings = append(s.warnings, find.warnings(l)...)
	}
	return s, nil
}

// admit refuses a second limb of a joint, and one whose joint deforms nothing.
func (d *finder) admit(l *limb, spec LimbSpec) error {
	if other, ok := d.limbs[l.joint]; ok {
		return fmt.Errorf("%s: limbs %q and %q both split joint %q, expected one limb a joint", spec.where(d.file.Name, "joint"), other, l.spec.Name, spec.Joint)
	}
	if joints := d.file.jointNodes; len(joints) > 0 && !joints[l.joint] {
		return l.spec.errorf(d.file, "joint", "joint %q is in no skin, expected a joint that deforms one", spec.Joint)
	}
	d.limbs[l.joint] = l.spec.Name
	return nil
}

// addSegments appends the segments to the nodes, below the split joints.
func (s *splitter) addSegments() (err error) {
	for _, l := range s.limbs {
		joint, err := s.nodeFor(l.joint, l)
		if err != nil {
			return err
		}
		s.stand(l)
		for i := range l.segments {
			seg := &l.segments[i]
			shape := l.shaped(i, seg.shape[:])
			node := newNode{name: seg.name, at: [3]float64(shape[:3]), turn: seg.turn, scale: [3]float64(shape[3:])}
			if seg.node, err = s.patch.addNode(joint, node); err != nil {
				return err
			}
		}
	}
	return nil
}
