// The tasks through the C library, in one call for all and in calls of 64 limbs.
#include "peer.hpp"

#include "pronate.h"

static pronate_status solve(pronate_limb l, float *dst, const float *joints, size_t n) {
	return pronate_solve_f32(l, dst, joints, nullptr, n);
}
static pronate_status solve(pronate_limb l, double *dst, const double *joints, size_t n) {
	return pronate_solve_f64(l, dst, joints, nullptr, n);
}
static pronate_status aim(const double *axis, float *dst, const float *frames, const float *targets, size_t n) {
	return pronate_aim_f32(axis, dst, frames, targets, n);
}
static pronate_status aim(const double *axis, double *dst, const double *frames, const double *targets, size_t n) {
	return pronate_aim_f64(axis, dst, frames, targets, n);
}

static void check(pronate_status status) {
	if (status == PRONATE_OK) return;
	std::fprintf(stderr, "%s\n", pronate_message());
	std::exit(1);
}

template <class T> void tasks() {
	const auto poses = load<T, T>("poses"), targets = load<T, T>("targets"), axis = load<T, T>("axis");
	const double along[3] = {axis[0], axis[1], axis[2]};
	const size_t n = poses.size() / 4, few = 64;
	pronate_limb_spec spec;
	pronate_limb_spec_init(&spec);
	std::copy(along, along + 3, spec.axis);
	spec.segments = segments;
	pronate_limb limb = 0;
	check(pronate_limb_new(&spec, &limb));
	std::vector<T> out(poses.size() * segments), aimed(poses.size());
	row<T>("limb", "pronate, C", out, n, [&] { check(solve(limb, out.data(), poses.data(), n)); });
	row<T>("limb", "pronate, C, 64 at a time", out, n, [&] {
		for (size_t i = 0; i < n; i += few) check(solve(limb, &out[4 * segments * i], &poses[4 * i], std::min(few, n - i)));
	});
	row<T>("aim", "pronate, C", aimed, n, [&] { check(aim(along, aimed.data(), poses.data(), targets.data(), n)); });
	check(pronate_limb_free(limb));
}

int main(int, char **arguments) {
	const uint32_t v = pronate_version();
	start(arguments, "pronate " + std::to_string(v >> 16) + "." + std::to_string(v >> 8 & 255) + "." + std::to_string(v & 255) + " from C");
	tasks<double>();
	tasks<float>();
}
