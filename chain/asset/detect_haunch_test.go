package asset

import "testing"

// The femur is the bone that moves the haunch, whatever it is called.
func TestDetectHaunch(t *testing.T) {
	checkDetect(t, map[string]detectTest{
		"cow: the femur has no name of its own": {`
Rumpf
	hind link L @ 0.1 0 0
		Back-leg.L @ 0.3 0 0
			Oberschenkel L @ 0 -0.8 0.2
				knee_L @ 0 -1 -0.4
					hufL
	hind link R @ -0.1 0 0
		Back-leg.R @ -0.3 0 0
			Oberschenkel R @ 0 -0.8 0.2
				knee_R @ 0 -1 -0.4
					hufR`, []string{
			"left thigh: Back-leg.L > Oberschenkel L",
			"right thigh: Back-leg.R > Oberschenkel R",
		}},
		"wolf: haunch above thigh": {`
bacino
	anca sx @ 0.1 0 0
		upper hind leg sx @ 0 -0.6 0.3
			lower hind leg sx @ 0 -0.7 -0.5
				zampa sx`, []string{"left thigh: anca sx > upper hind leg sx"}},
		"fox: a short link, straight sideways": {`
pelvis
	legLinkR @ 0 0 0
		cuisse R @ -0.2 0 0
			mollet R @ 0 -0.5 0
				pied R`, []string{"right thigh: cuisse R > mollet R"}},
		"stag: a long link straight sideways": {`
spine
	left leg root @ 0 0 0
		left femur @ 1 0 0
			left shank
				left hoof`, []string{"left thigh: left femur > left shank"}},
		"a joint that moves no skin": {`
spine
	right leg! @ 0 0 0
		right femur @ 0 -1 0
			right shank
				right hoof`, []string{"right thigh: right femur > right shank"}},
		"a joint on the ground": {`
root
	leg l @ 0 -2 0
		thigh l @ 0 2 0
			shin l
				foot l`, []string{"left thigh: thigh l > shin l"}},
		"a joint that both legs hang from": {`
root
	leg 0
		upper leg 1
			lower leg 1
				foot 1
		upper leg 2
			lower leg 2
				foot 2`, []string{
			"thigh: upper leg 1 > lower leg 1",
			"thigh 2: upper leg 2 > lower leg 2",
		}},
		"front legs: humerus above the named bone": {`
chest
	fore shoulder_R
		frontleg_R @ 0 -0.5 0.3
			frontleg upper_R @ 0 -0.6 -0.4
				frontleg lower_R
					front hoof_R`, []string{
			"right upper foreleg: frontleg_R > frontleg upper_R",
			"right lower foreleg: frontleg upper_R > frontleg lower_R ~ frontleg lower_R",
		}},
		"front legs: no shoulder blade": {`
chest
	scapola front dx @ 0 0.2 0
		front leg upper dx @ 0 -0.5 0.3
			front leg lower dx @ 0 -0.6 0
				front paw dx`, []string{
			"right upper foreleg: front leg upper dx > front leg lower dx",
			"right lower foreleg: front leg lower dx > front paw dx ~ front paw dx",
		}},
		"front legs: four bones by number": {`
chest
	L front leg 1 @ 0.2 0 0
		L front leg 2
			L front leg 3
				L front leg 4
					L front paw`, []string{
			"left upper foreleg: L front leg 2 > L front leg 3",
			"left lower foreleg: L front leg 3 > L front leg 4 ~ L front leg 4",
		}},
	})
}
