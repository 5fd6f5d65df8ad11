/* The limbs of a climber who stands along +Y, faces +Z and holds her arms 45 degrees
 * off her body at rest. Every joint's +Y runs along its bone, and its +Z forward. */
#include "host.h"

#include <string.h>

enum { THIGH_L, THIGH_R, UPPER_ARM_L, UPPER_ARM_R, FOREARM_L, FOREARM_R, SHIN_L, SHIN_R };

const char *const limb_names[LIMBS] = {
	"thigh_l", "thigh_r", "upper_arm_l", "upper_arm_r", "forearm_l", "forearm_r", "shin_l", "shin_r",
};

/* A knee bends backwards, an elbow forwards; going out to the side is a turn about
 * +Z on the left and about -Z on the right. */
const moves limb_moves[LIMBS] = {
	{{400, 700, 120, 250, 400}, {0, 0, 0, 0, 0}},
	{{400, 700, -120, 250, 400}, {0, 0, 0, 0, 0}},
	{{350, 700, 150, 500, 600}, {0, 0, 0, 0, 0}},
	{{350, 700, -150, 500, 600}, {0, 0, 0, 0, 0}},
	{{700, 650, 0, 0, 0}, {0, 400, 0, 150, 800}},
	{{700, 650, 0, 0, 0}, {0, 400, 0, 150, 800}},
	{{-600, 550, 0, 0, 0}, {100, 250, 0, 80, 250}},
	{{-600, 550, 0, 0, 0}, {100, 250, 0, 80, 250}},
};

static void set3(double to[3], double x, double y, double z) { to[0] = x, to[1] = y, to[2] = z; }

/* A turn about Z that lays +Y along the bone: half a turn for legs, three eighths
 * for arms. */
static void turn(double q[4], uint32_t limb) {
	const double sin_67_5 = 0.9238795325112867, cos_67_5 = 0.3826834323650898;
	int arm = limb >= UPPER_ARM_L && limb <= FOREARM_R, left = limb % 2 == 0;
	q[0] = q[1] = 0;
	q[2] = !arm ? 1 : left ? -sin_67_5 : sin_67_5;
	q[3] = !arm ? 0 : cos_67_5;
}

int limb_has_tip(uint32_t limb) { return limb >= FOREARM_L; }

void limb_spec(pronate_limb_spec *spec, uint32_t limb) {
	pronate_limb_spec_init(spec);
	spec->segments = SEGMENTS;
	set3(spec->axis, 0, 1, 0);
	turn(spec->joint_rest, limb);
	memcpy(spec->tip_rest, spec->joint_rest, sizeof spec->tip_rest);
	if (limb_has_tip(limb)) {
		spec->twist = PRONATE_TWIST_TIP;
		memcpy(spec->anchor_rest, spec->joint_rest, sizeof spec->anchor_rest); /* the bone above */
		return;
	}
	/* The anchor is the pelvis or the chest, whose axes are the world's. */
	spec->field = PRONATE_FIELD_BALANCED;
	spec->range = limb <= THIGH_R ? PRONATE_RANGE_HIP : PRONATE_RANGE_SHOULDER;
	set3(spec->down, 0, -1, 0);
	set3(spec->forward, 0, 0, 1);
	set3(spec->out, limb % 2 == 0 ? 1 : -1, 0, 0);
}
