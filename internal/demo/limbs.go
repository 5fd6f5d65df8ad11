package demo

// Limb names the joints of one limb that is worth splitting.
type Limb struct {
	Name   string  // in plain words
	Joint  string  // the joint whose bone it is
	End    string  // the joint at the bone's far end
	Tip    string  // the joint whose turn the bone follows; empty where the turn is its own
	Clip   string  // the clip that wrings it; empty where none does
	Moment float64 // when in the clip it is wrung the most, in seconds
}

// Limbs lists Wren's limbs that are worth splitting. The clips wring those on
// the left.
var Limbs = []Limb{
	{Name: "left upper arm", Joint: "upper_arm_l", End: "forearm_l", Clip: OverheadReach, Moment: 1.5},
	{Name: "right upper arm", Joint: "upper_arm_r", End: "forearm_r"},
	{Name: "left forearm", Joint: "forearm_l", End: "hand_l", Tip: "hand_l", Clip: ForearmWring, Moment: 1.2},
	{Name: "right forearm", Joint: "forearm_r", End: "hand_r", Tip: "hand_r"},
	{Name: "left thigh", Joint: "thigh_l", End: "shin_l", Clip: HighStep, Moment: 1.5},
	{Name: "right thigh", Joint: "thigh_r", End: "shin_r"},
}

// Hinges names the joints that turn about one axis only.
var Hinges = []string{"forearm_l", "forearm_r", "shin_l", "shin_r"}
