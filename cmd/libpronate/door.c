//go:build cgo

#include "_cgo_export.h" /* and with it door.h */

/* Behind the door what is read and what is written has one layout. */
#define SAME_LAYOUT(a, b)                                                                   \
	_Static_assert(sizeof(a) == sizeof(b) && offsetof(a, w) == offsetof(b, w) &&            \
	                   offsetof(a, stride) == offsetof(b, stride) &&                        \
	                   offsetof(a, segment) == offsetof(b, segment),                        \
	               "the const struct has another layout")
SAME_LAYOUT(pronate_rotations_f32, pronate_const_rotations_f32);
SAME_LAYOUT(pronate_rotations_f64, pronate_const_rotations_f64);

/* What Go is given it only reads where pronate.h says const, which Go has no word
 * for. */

uint32_t pronate_version(void) {
	return PRONATE_VERSION_MAJOR << 16 | PRONATE_VERSION_MINOR << 8 | PRONATE_VERSION_PATCH;
}

uint32_t pronate_features(void) { return pronate_go_features(); }

void pronate_limb_spec_init(pronate_limb_spec *spec) {
	static const pronate_limb_spec start = {
		.size = sizeof start,
		.axis = {0, 1, 0},
		.anchor_rest = {0, 0, 0, 1},
		.joint_rest = {0, 0, 0, 1},
		.tip_rest = {0, 0, 0, 1},
	};
	if (spec) *spec = start;
}

pronate_status pronate_limb_new(const pronate_limb_spec *spec, pronate_limb *limb) {
	pronate_say_nothing();
	return pronate_go_limb_new((pronate_limb_spec *)spec, limb);
}

pronate_status pronate_limb_from_text(const char *text, size_t length, const char *name,
                                      const pronate_limb_spec *rest, pronate_limb *limb) {
	pronate_say_nothing();
	return pronate_go_limb_from_text((char *)text, length, (char *)name, (pronate_limb_spec *)rest, limb);
}

pronate_status pronate_limb_free(pronate_limb limb) {
	pronate_say_nothing();
	return pronate_go_limb_free(limb);
}

int32_t pronate_limb_segments(pronate_limb limb) {
	pronate_say_nothing();
	return pronate_go_limb_segments(limb);
}

pronate_status pronate_limb_describe(pronate_limb limb, pronate_limb_info *info) {
	pronate_say_nothing();
	return pronate_go_limb_describe(limb, info);
}

pronate_status pronate_from_rest(pronate_limb limb, const double anchor[4], const double joint[4], const double tip[4],
                                 double out_joint[4], double out_tip[4]) {
	pronate_say_nothing();
	return pronate_go_from_rest(limb, (double *)anchor, (double *)joint, (double *)tip, out_joint, out_tip);
}

pronate_status pronate_solve(pronate_limb limb, const double joint[4], const double tip[4],
                             double *segments, pronate_result *result) {
	pronate_say_nothing();
	return pronate_go_solve(limb, (double *)joint, (double *)tip, segments, result);
}

pronate_status pronate_solve_f32(pronate_limb limb, float *dst, const float *joints, const float *tips, size_t n) {
	pronate_say_nothing();
	return pronate_go_solve_f32(limb, dst, (float *)joints, (float *)tips, n);
}

pronate_status pronate_solve_f64(pronate_limb limb, double *dst, const double *joints, const double *tips, size_t n) {
	pronate_say_nothing();
	return pronate_go_solve_f64(limb, dst, (double *)joints, (double *)tips, n);
}

pronate_status pronate_solve_layout_f32(pronate_limb limb, const pronate_rotations_f32 *dst,
                                        const pronate_const_rotations_f32 *joints, const pronate_const_rotations_f32 *tips,
                                        size_t n, uint32_t threads, pronate_outcome *outcome) {
	pronate_say_nothing();
	return pronate_go_solve_layout_f32(limb, (pronate_rotations_f32 *)dst, (pronate_const_rotations_f32 *)joints,
	                                   (pronate_const_rotations_f32 *)tips, n, threads, outcome);
}

pronate_status pronate_solve_layout_f64(pronate_limb limb, const pronate_rotations_f64 *dst,
                                        const pronate_const_rotations_f64 *joints, const pronate_const_rotations_f64 *tips,
                                        size_t n, uint32_t threads, pronate_outcome *outcome) {
	pronate_say_nothing();
	return pronate_go_solve_layout_f64(limb, (pronate_rotations_f64 *)dst, (pronate_const_rotations_f64 *)joints,
	                                   (pronate_const_rotations_f64 *)tips, n, threads, outcome);
}

pronate_status pronate_aim_f32(const double axis[3], float *dst, const float *frames, const float *targets, size_t n) {
	pronate_say_nothing();
	return pronate_go_aim_f32((double *)axis, dst, (float *)frames, (float *)targets, n);
}

pronate_status pronate_aim_f64(const double axis[3], double *dst, const double *frames, const double *targets, size_t n) {
	pronate_say_nothing();
	return pronate_go_aim_f64((double *)axis, dst, (double *)frames, (double *)targets, n);
}
