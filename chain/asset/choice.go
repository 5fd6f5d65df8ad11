package asset

// Choice is what the automatic choice decided for a limb, and why.
type Choice struct {
	Limb     string   `json:"limb"`
	Joint    string   `json:"joint"`
	Split    bool     `json:"split"`
	Segments int      `json:"segments,omitempty"`
	Field    string   `json:"field,omitempty"`
	Left     []string `json:"left_as_it_was,omitempty"` // pieces of the skin
	// Reason is a sentence: what the split gains, or why the limb stays as it was.
	Reason string `json:"reason"`
	// Best and Worst are the poses that gain and lose most, of those measured; nil
	// where nothing was measured.
	Best  *Strained `json:"best,omitempty"`
	Worst *Strained `json:"worst,omitempty"`
	// Poses is how many were measured, and WorsePoses in how many the skin is worse.
	Poses      int     `json:"poses"`
	WorsePoses int     `json:"worse_poses"`
	Tried      []Trial `json:"tried,omitempty"`

	// Resolved is the limb with all of its settings given, if it is split.
	Resolved LimbSpec `json:"-"`
}

// IsWorse reports whether some pose is worse, as a limb file may ask for.
func (c *Choice) IsWorse() bool { return c.WorsePoses > 0 }

// Strained is the strain of the skin that a limb moves, in a pose: the mean over the
// area of all skin of (smaller stretch - 1)^2 + (larger stretch - 1)^2, against the
// bind pose, each stretch counted up to 3.
type Strained struct {
	Pose   string  `json:"pose"`
	Source float64 `json:"source"`
	Split  float64 `json:"split"`
	// Radius is the minimum radius of the limb's sections as a part of that at rest;
	// 0 where it was not measured.
	SourceRadius float64 `json:"source_radius,omitempty"`
	SplitRadius  float64 `json:"split_radius,omitempty"`
}

// Trial is one way to split a limb that was measured.
type Trial struct {
	Segments int    `json:"segments"`
	Field    string `json:"field,omitempty"`
	Left     int    `json:"pieces_left,omitempty"` // how many pieces stayed as they were
	// Poses is how many were measured: few where those that made an earlier trial fail
	// make this one fail, too.
	Poses  int      `json:"poses"`
	Better int      `json:"better"`
	Worse  int      `json:"worse"`
	Worst  Strained `json:"worst"`

	excess float64 // of the worst, over what it may be
}

// skippedChoices are the limbs that detection does not propose.
func skippedChoices(skipped []SkippedLimb) (out []Choice) {
	for _, s := range skipped {
		out = append(out, Choice{Limb: s.Name, Joint: s.Joint, Reason: "it stays as it is: " + s.Reason})
	}
	return out
}
