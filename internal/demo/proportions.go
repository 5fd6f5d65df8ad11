package demo

// Height is Wren's height in metres, sole to crown.
const Height = 1.70

// Segment lengths and landmarks as fractions of the height: R. Drillis and
// R. Contini, Body Segment Parameters (1966), as drawn in D. A. Winter,
// Biomechanics and Motor Control of Human Movement, fig. 4.1 (values from
// memory). Their shoulder width, 0.259, and hip width, 0.191, are read as breadths
// over the skin, and held by the tables of the cross-sections: joint centres that
// far apart would leave no room for the deltoid and the trochanter.
const (
	upperArmShare      = 0.186
	forearmShare       = 0.146
	handShare          = 0.108
	thighShare         = 0.245
	shankShare         = 0.246
	footShare          = 0.152
	hipHeightShare     = 0.530
	shoulderLevelShare = 0.818
)

const (
	upperArmLength = upperArmShare * Height
	forearmLength  = forearmShare * Height
	handLength     = handShare * Height
	thighLength    = thighShare * Height
	shankLength    = shankShare * Height
	footLength     = footShare * Height
	armLength      = upperArmLength + forearmLength // shoulder to wrist
	legLength      = thighLength + shankLength      // hip to ankle
)
