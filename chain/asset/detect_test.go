package asset

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// summary writes limbs as "name: joint > end", with the tip where it is
// another than the end.
func summary(l Limbs) []string {
	var out []string
	for _, s := range l.Limbs {
		line := s.Name + ": " + s.Joint + " > " + s.End.Joint
		if s.Tip != "" {
			line += " ~ " + s.Tip
		}
		out = append(out, line)
	}
	return out
}

func TestDetect(t *testing.T) {
	checkDetect(t, map[string]detectTest{
		"camel case, leg for both bones": {`
Root
	Pelvis
		Chest
			LeftCollar
				LeftArm
					LeftForearm
						LeftHand
							LeftThumb1
		LeftLegTop
			LeftLeg
				LeftFoot
					LeftToes`, []string{
			"left thigh: LeftLegTop > LeftLeg",
			"left upper arm: LeftArm > LeftForearm",
			"left forearm: LeftForearm > LeftHand ~ LeftHand",
		}},
		"anatomical joints, side last": {`
pelvis
	chest
		clavicle_r
			shoulder_r
				elbow_r
					wrist_r
						hand_r
	hip_r
		knee_r
			ankle_r
				toes_r`, []string{
			"right thigh: hip_r > knee_r",
			"right upper arm: shoulder_r > elbow_r",
			"right forearm: elbow_r > wrist_r ~ wrist_r",
		}},
		"numbers only": {`
root
	leg 1 L
		leg 2 L
			foot L
	arm 1 L
		arm 2 L
			hand L`, []string{
			"left thigh: leg 1 L > leg 2 L",
			"left upper arm: arm 1 L > arm 2 L",
			"left forearm: arm 2 L > hand L ~ hand L",
		}},
		"legs before the foot, after a short link": {`
root
	l leg a @ 0 -0.1 0
		l leg b @ 0 -0.2 0
			l leg c
				l foot`, []string{"left thigh: l leg b > l leg c"}},
		"arms from the hand": {`
root
	L_Arm0 @ 0.2 0 0
		L_Arm1
			L_Arm2
				L_Hand`, []string{
			"left upper arm: L_Arm1 > L_Arm2",
			"left forearm: L_Arm2 > L_Hand ~ L_Hand",
		}},
		"shoulder as a link": {`
root
	shoulder_l @ 0 0 0
		arm_l @ 0.2 0 0
			hand_l`, []string{"left upper arm: arm_l > hand_l"}},
		"run together": {`
root
	lthigh
		lcalf
			lfoot
	leftupperarm
		leftlowerarm
			lefthand
	rightarm
		rightforearm
			righthand`, []string{
			"left thigh: lthigh > lcalf",
			"left upper arm: leftupperarm > leftlowerarm",
			"right upper arm: rightarm > rightforearm",
			"left forearm: leftlowerarm > lefthand ~ lefthand",
			"right forearm: rightforearm > righthand ~ righthand",
		}},
		"capitals": {`
ROOT
	UPPERARM_L
		LOWERARM_L
			HAND_L`, []string{
			"left upper arm: UPPERARM_L > LOWERARM_L",
			"left forearm: LOWERARM_L > HAND_L ~ HAND_L",
		}},
		"twist joints in line and beside": {`
root
	arm_upper_l
		arm_upper_twist_l
			arm_lower_l
				arm_lower_twist_l
				hand_l
					weapon_l`, []string{
			"left upper arm: arm_upper_l > arm_lower_l",
			"left forearm: arm_lower_l > hand_l ~ hand_l",
		}},
		"no hands or feet": {`
root
	thigh_l
		shin_l
	arm1_r
		arm2_r`, []string{
			"left thigh: thigh_l > shin_l",
			"right upper arm: arm1_r > arm2_r",
		}},
		"hands outside the skin": {`
root
	arm_l
		forearm_l
			hand_l?`, []string{
			"left upper arm: arm_l > forearm_l",
			"left forearm: forearm_l > hand_l ~ hand_l",
		}},
		"only the hand has a word": {`
root
	L_07
		L_08
			L_09
				L_hand`, []string{
			"left upper arm: L_08 > L_09",
			"left forearm: L_09 > L_hand ~ L_hand",
		}},
		"quadruped": {`
hips
	spine
		front_leg_upper_L
			front_leg_lower_L
				front_paw_L
		foreleg1_R
			foreleg2_R
				forepaw_R
	hind_leg_upper_L
		hind_leg_lower_L
			hind_paw_L
	rear_thigh_R
		rear_shin_R
			rear_hoof_R`, []string{
			"left thigh: hind_leg_upper_L > hind_leg_lower_L",
			"right thigh: rear_thigh_R > rear_shin_R",
			"left upper foreleg: front_leg_upper_L > front_leg_lower_L",
			"right upper foreleg: foreleg1_R > foreleg2_R",
			"left lower foreleg: front_leg_lower_L > front_paw_L ~ front_paw_L",
			"right lower foreleg: foreleg2_R > forepaw_R ~ forepaw_R",
		}},
		"sides by place": {`
root
	thigh 1 @ -0.1 0 0
		shin 1
			foot 1
	thigh 2 @ 0.1 0 0
		shin 2
			foot 2
	upperarm
		forearm
			hand`, []string{
			"left thigh: thigh 2 > shin 2",
			"right thigh: thigh 1 > shin 1",
			"upper arm: upperarm > forearm",
			"forearm: forearm > hand ~ hand",
		}},
		"a prefix that sounds like a limb": {`
HandModel/root
	HandModel/hips
		HandModel/thigh_l
			HandModel/shin_l
				HandModel/foot_l`, []string{"left thigh: HandModel/thigh_l > HandModel/shin_l"}},
		"a prefix that is the limb": {`
arm_root
	arm_upper
		arm_lower
			arm_hand`, []string{
			"upper arm: arm_upper > arm_lower",
			"forearm: arm_lower > arm_hand ~ arm_hand",
		}},
		"bones in two parts": {`
root
	upper leg 1 L
		upper leg 2 L
			lower leg 1 L
				lower leg 2 L
					foot L`, []string{"left thigh: upper leg 1 L > upper leg 2 L"}},
		"two of a kind": {`
root
	upperarm_l
		forearm_l
			hand_l
	upperarm_l
		forearm_l
			hand_l`, []string{
			"left upper arm: #1 > #2",
			"left upper arm 2: #4 > #5",
			"left forearm: #2 > #3 ~ #3",
			"left forearm 2: #5 > #6 ~ #6",
		}},
		"no weight, no limb": {`
root
	thigh_l!
		shin_l
			foot_l
	thigh_r
		shin_r
			foot_r`, []string{"right thigh: thigh_r > shin_r"}},
		"bones without length": {`
root
	thigh_l
		shin_l @ 0 0 0
			foot_l
	upperarm_l
		forearm_l
			hand_l @ 0 0 0`, []string{
			"left thigh: thigh_l > foot_l",
			"left upper arm: upperarm_l > forearm_l",
		}},
	})
}

type detectTest struct {
	skeleton string
	want     []string
}

func checkDetect(t *testing.T, tests map[string]detectTest) {
	for what, test := range tests {
		t.Run(what, func(t *testing.T) {
			f := decodeSkeleton(t, test.skeleton)
			limbs, err := Detect(f)
			require.NoError(t, err)
			require.Equal(t, test.want, summary(limbs))
			back, err := ParseLimbs("limbs.yaml", limbs.YAML())
			require.NoError(t, err)
			require.EqualExportedValues(t, limbs, back)
		})
	}
}

func TestDetectSpec(t *testing.T) {
	limbs, err := Detect(decodeSkeleton(t, `
pelvis
	thigh_l @ 0.1 0 0
		shin_l
			foot_l
	thigh_r @ -0.1 0 0
		shin_r
			foot_r
	upperarm_l @ 0.2 1 0
		forearm_l
			hand_l`))
	require.NoError(t, err)
	require.Equal(t, LimbSpec{
		Name: "left thigh", Joint: "thigh_l", End: End{Joint: "shin_l"}, Twist: TwistOwn,
		Shares: Shares{Ramp: SharesLinear}, Anchor: "pelvis", Centre: Centre{Mode: CentreAuto}, Range: Range{Name: RangeHip},
	}, limbs.Limbs[0])
	require.Equal(t, LimbSpec{
		Name: "left forearm", Joint: "forearm_l", End: End{Joint: "hand_l"}, Twist: TwistTip, Tip: "hand_l",
		Shares: Shares{Ramp: SharesLinear}, Anchor: "upperarm_l", Centre: Centre{Mode: CentreNone},
	}, limbs.Limbs[3])
}

// Characters made by others, where they are at hand.
func TestDetectOthers(t *testing.T) {
	for name, test := range map[string]struct {
		want   []string
		ranges string // of the limbs that turn by themselves
	}{
		"fox": {[]string{
			"left thigh: b_LeftLeg01_015 > b_LeftLeg02_016",
			"right thigh: b_RightLeg01_019 > b_RightLeg02_020",
			"left upper arm: b_LeftUpperArm_09 > b_LeftForeArm_010",
			"right upper arm: b_RightUpperArm_06 > b_RightForeArm_07",
			"left forearm: b_LeftForeArm_010 > b_LeftHand_011 ~ b_LeftHand_011",
			"right forearm: b_RightForeArm_07 > b_RightHand_08 ~ b_RightHand_08",
		}, "clips"},
		"horse": {[]string{
			"left thigh: BackLeg.L > BackUpperLeg.L",
			"right thigh: BackLeg.R > BackUpperLeg.R",
			"left upper foreleg: FrontUpperLeg.L > FrontLowerLeg.L",
			"right upper foreleg: FrontUpperLeg.R > FrontLowerLeg.R",
		}, "clips"},
		"frog": {[]string{
			"left thigh: BackLeg.L > BackUpLeg.L",
			"right thigh: BackLeg.R > BackUpLeg.R",
			"left upper foreleg: FrontUpLeg.L > FrontLowLeg.L",
			"right upper foreleg: FrontUpLeg.R > FrontLowLeg.R",
		}, "clips"},
		"trex": {[]string{
			"left thigh: BackUpLeg.L > BackLowLeg.L",
			"right thigh: BackUpLeg.R > BackLowLeg.R",
			"left upper foreleg: FrontUpLeg.L > FrontLowLeg.L",
			"right upper foreleg: FrontUpLeg.R > FrontLowLeg.R",
			"left lower foreleg: FrontLowLeg.L > FrontFoot.L ~ FrontFoot.L",
			"right lower foreleg: FrontLowLeg.R > FrontFoot.R ~ FrontFoot.R",
		}, "clips"},
		"man": {[]string{
			"left thigh: UpperLeg.L > LowerLeg.L",
			"right thigh: UpperLeg.R > LowerLeg.R",
			"left upper arm: UpperArm.L > LowerArm.L",
			"right upper arm: UpperArm.R > LowerArm.R",
			"left forearm: LowerArm.L > Hand.L ~ Hand.L",
			"right forearm: LowerArm.R > Hand.R ~ Hand.R",
		}, "person"},
		"robot": {[]string{
			"left forearm: LowerArm.L > Palm3.L ~ Palm3.L",
			"right forearm: LowerArm.R > Palm3.R ~ Palm3.R",
			"- left thigh: its skin moves as one rigid piece",
			"- right thigh: its skin moves as one rigid piece",
			"- left upper arm: its skin moves as one rigid piece",
			"- right upper arm: its skin moves as one rigid piece",
		}, ""},
	} {
		t.Run(name, func(t *testing.T) {
			path := "../../../shared/data/" + name + ".glb"
			if _, err := os.Stat(path); err != nil {
				t.Skip(path + " is not here")
			}
			f, err := Open(path)
			require.NoError(t, err)
			limbs, err := Detect(f)
			require.NoError(t, err)
			got := summary(limbs)
			for _, s := range limbs.Skipped {
				got = append(got, "- "+s.Name+": "+s.Reason)
			}
			require.Equal(t, test.want, got)
			for _, l := range limbs.Limbs {
				switch {
				case l.Twist == TwistTip:
					require.Empty(t, l.Range.Name)
				case test.ranges == "person":
					require.Contains(t, []string{RangeHip, RangeShoulder}, l.Range.Name)
				default:
					require.Equal(t, test.ranges, l.Range.Name)
				}
			}
		})
	}
}

func TestDetectNothing(t *testing.T) {
	f := decodeSkeleton(t, "n0\n\tn1\n\t\tn2 @ 0 2 0\n\t\t\tn3\n\t\"n\u0007\"\n")
	_, err := Detect(f)
	var none *NoLimbsError
	require.True(t, errors.As(err, &none))
	require.Equal(t, `test.gltf: found no arms or legs by the names of its joints, expected a limb file that names them

Its joints, and how far each is from the one above:

  n0
    n1                                       1
      n2                                     2
        n3                                   1
    "n\a"                                    1

A limb file names the joint whose bone is split and the joint where the bone
ends. This one would split the longest bone above; put it in a file, correct the
names, and add an entry for each limb:

version: 1
limbs:
  - name: first limb
    joint: n1
    end: n2
    segments: auto
    twist: own
    shares: linear
    centre: auto

For a forearm write "twist: tip" and "tip:" with the joint of the hand.`, err.Error())

	example := err.Error()
	example = example[strings.Index(example, "version:"):strings.Index(example, "For a forearm")]
	limbs, err := ParseLimbs("limbs.yaml", []byte(example))
	require.NoError(t, err)
	require.Equal(t, []string{"first limb: n1 > n2"}, summary(limbs))
}

func TestDetectHelpIsBounded(t *testing.T) {
	var text strings.Builder
	text.WriteString("root\n")
	for i := range 500 {
		text.WriteString("\t" + strings.Repeat("x", 300) + strings.Repeat("y", i) + "\n")
	}
	_, err := Detect(decodeSkeleton(t, text.String()))
	require.ErrorContains(t, err, "… and 477 more")
	require.Less(t, len(err.Error()), 4000)
}

func TestDetectWithoutSkin(t *testing.T) {
	f, err := Decode("test.gltf", []byte(`{"asset":{"version":"2.0"},"nodes":[{"name":"arm","mesh":0}],
		"meshes":[{"primitives":[{"attributes":{}}]}]}`), nil)
	require.NoError(t, err)
	_, err = Detect(f)
	require.EqualError(t, err, "test.gltf: no skin, expected a skinned character")
	f, err = Decode("test.gltf", []byte(`{"asset":{"version":"2.0"}}`), nil)
	require.NoError(t, err)
	_, err = Detect(f)
	require.EqualError(t, err, "test.gltf: no nodes, expected a character")
}

// A chain of twenty thousand joints must take neither stack nor time.
func TestDetectDeep(t *testing.T) {
	var joints []testJoint
	for range 20_000 {
		joints = append(joints, testJoint{depth: len(joints), name: "L_arm", at: [3]float64{0, -1, 0}})
	}
	f, err := Decode("deep.gltf", skinned(joints), nil)
	require.NoError(t, err)
	_, err = Detect(f)
	require.NoError(t, err)
}
