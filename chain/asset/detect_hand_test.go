package asset

import "testing"

func TestDetectHands(t *testing.T) {
	checkDetect(t, map[string]detectTest{
		"several palms: the one that moves most": {`
body
	links arm upper
		links arm lower
			links palm 1
				links ring
			links palm 2
				links finger
					links finger b
				links finger c
			links daumen`, []string{
			"left upper arm: links arm upper > links arm lower",
			"left forearm: links arm lower > links palm 2 ~ links palm 2",
		}},
		"a hand of another name": {`
body
	r oberarm
		r ellbogen
			r kelp claw
				r kelp pincer`, []string{
			"right upper arm: r oberarm > r ellbogen",
			"right forearm: r ellbogen > r kelp claw ~ r kelp claw",
		}},
		"a hand without a side": {`
body
	r oberarm
		r ellbogen
			Hook`, []string{
			"right upper arm: r oberarm > r ellbogen",
			"right forearm: r ellbogen > Hook ~ Hook",
		}},
		"a pad at the elbow is no hand, nor are fingers": {`
body
	brazo izq upper
		codo izq
			izq stud @ 0 0.1 0
			izq thumb
			izq medio`, []string{"left upper arm: brazo izq upper > codo izq"}},
		"what moves no skin is no hand": {`
body
	l humerus
		l ulna
			l blob!`, []string{"left upper arm: l humerus > l ulna"}},
		"an arm of one bone": {`
body
	arm L
		flipper L`, []string{"left upper arm: arm L > flipper L"}},
	})
}
