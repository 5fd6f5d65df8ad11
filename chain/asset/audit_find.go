package asset

import (
	"fmt"
	"slices"

	"github.com/go-gl/mathgl/mgl64"
	"github.com/pronate/pronate/chain"
	"gonum.org/v1/gonum/spatial/r3"
)

// hingeFinder gathers a character's knees and elbows.
type hingeFinder struct {
	file *File
	*poses
	world  []mgl64.Mat4
	clips  []clip
	hinges []auditHinge
	at     map[int]int // joint -> index in hinges
}

// auditHinge is one joint that is looked at.
type auditHinge struct {
	joint int
	near  int // the joint whose bone ends here, -1 for none
	end   End // of the bone below; zero where nothing says so
	kind  string
	given *[3]float64

	turn     turner // from near to joint
	hinge    chain.Hinge
	from     string
	restBend float64
	fit      chain.HingeFit
	fitted   bool
}

const (
	kneeHinge  = "knee"
	elbowHinge = "elbow"
	otherHinge = "hinge"
)

// all finds the hinges that limbs and given axes tell of.
func (d *hingeFinder) all(options AuditOptions) error {
	limbs := options.Limbs
	if limbs == nil {
		detected, err := Detect(d.file)
		if err != nil {
			return err
		}
		limbs = detected.Limbs
	}
	for _, spec := range limbs {
		if err := d.limb(spec); err != nil {
			return fmt.Errorf("%s: limb %q: %w", d.file.Name, spec.Name, err)
		}
	}
	var names []string
	for name := range options.Axes {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		joint, err := d.file.node(name)
		if err != nil {
			return fmt.Errorf("%s: axes: %w", d.file.Name, err)
		}
		h := d.hinge(joint, d.file.parent[joint], otherHinge)
		if h.given != nil {
			return fmt.Errorf("%s: axes: joint %q has two, expected one", d.file.Name, d.file.ref(joint))
		}
		axis := options.Axes[name]
		h.given = &axis
	}
	if len(d.hinges) == 0 {
		return fmt.Errorf("%s: %w", d.file.Name, ErrNoHinges)
	}
	return nil
}

// limb takes the hinge at the end of a thigh or an upper arm, or at the root of a
// shin or forearm.
func (d *hingeFinder) limb(spec LimbSpec) error {
	joint, err := d.file.node(spec.Joint)
	if err != nil {
		return fmt.Errorf("joint: %w", err)
	}
	switch part := specRole(spec); part {
	case thigh, upperArm:
		kind := elbowHinge
		if part == thigh {
			kind = kneeHinge
		}
		if spec.End.Point != nil {
			return nil // no joint there
		}
		end, err := d.file.node(spec.End.Joint)
		if err != nil {
			return fmt.Errorf("end: %w", err)
		}
		if end == joint || !d.file.isAncestor(joint, end) {
			return fmt.Errorf("end: %q is not below the joint, expected one of its descendants or a point", spec.End.Joint)
		}
		h := d.hinge(end, joint, kind)
		h.near, h.kind = joint, kind
	case shin, forearm:
		kind := elbowHinge
		if part == shin {
			kind = kneeHinge
		}
		near := d.file.parent[joint]
		if spec.Anchor != "" {
			anchor, err := d.file.node(spec.Anchor)
			if err != nil {
				return fmt.Errorf("anchor: %w", err)
			}
			if anchor != joint && d.file.isAncestor(anchor, joint) {
				near = anchor
			}
		}
		d.hinge(joint, near, kind).end = spec.End
	}
	return nil
}

// hinge is the hinge of a joint, a new one where there is none yet. The pointer is
// good until the next call.
func (d *hingeFinder) hinge(joint, near int, kind string) *auditHinge {
	i, ok := d.at[joint]
	if !ok {
		i = len(d.hinges)
		d.at[joint] = i
		d.hinges = append(d.hinges, auditHinge{joint: joint, near: near, kind: kind})
	}
	return &d.hinges[i]
}

// below is the far end of the bone below a joint, in its frame: the nearest hand or
// foot, else the joint's child that is farthest away, helpers last. Zero where
// there is none.
func (d *hingeFinder) below(joint int) r3.Vec {
	roleAt := func(node int) role {
		r, _ := roleOf(meaningOf(splitName(d.file.Doc.Nodes[node].Name)))
		return r
	}
	queue := slices.Clone(d.file.Doc.Nodes[joint].Children)
	for i := 0; i < len(queue); i++ {
		node := queue[i]
		if at := d.inFrame(joint, node); roleAt(node).isTip() && r3.Norm(at) > 0 {
			return at
		}
		queue = append(queue, d.file.Doc.Nodes[node].Children...)
	}
	var best r3.Vec
	bestHelper := true
	for _, child := range d.file.Doc.Nodes[joint].Children {
		at, helper := d.inFrame(joint, child), roleAt(child) == passedOver || !d.file.jointNodes[child]
		if r3.Norm(at) > 0 && (bestHelper && !helper || bestHelper == helper && r3.Norm(at) > r3.Norm(best)) {
			best, bestHelper = at, helper
		}
	}
	return best
}

// inFrame is where a descendant stands in a joint's frame at rest.
func (d *hingeFinder) inFrame(joint, node int) r3.Vec {
	return walk{d.file.down(joint, node), d.poses}.place()
}
