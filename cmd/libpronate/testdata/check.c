/* Checks every function of pronate.h and every way it can fail. It is C11 and
 * C++17. TestC builds and runs it; it prints how many checks held. */
#include "pronate.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <threads.h>

static int checks, failures;

#define CHECK(what) check((what), #what, __LINE__)

static void check(int held, const char *what, int line) {
	checks++;
	if (held) return;
	failures++;
	printf("check.c:%d: %s (message: %s)\n", line, what, pronate_message());
}

/* A call with its status, and what its message must contain; empty for OK. */
#define SAYS(call, status, text) says((call), (status), (text), #call, __LINE__)

static void says(pronate_status got, pronate_status want, const char *text, const char *call, int line) {
	const char *message = pronate_message();
	checks++;
	if (got == want && strstr(message, text) && (want == PRONATE_OK) == !*message && !strchr(message, '\n')) return;
	failures++;
	printf("check.c:%d: %s is %d, \"%s\", expected %d, \"%s\"\n", line, call, (int)got, message, (int)want, text);
}

static const double identity[4] = {0, 0, 0, 1}, some[4] = {0.1, -0.4, 0.3, 0.8}, half_turn[4] = {1, 0, 0, 0}, zero[4] = {0, 0, 0, 0};

static pronate_limb_spec start(void) {
	pronate_limb_spec spec;
	pronate_limb_spec_init(&spec);
	return spec;
}

static pronate_limb make(int segments, int twist) {
	pronate_limb_spec spec = start();
	pronate_limb limb = 0;
	spec.segments = segments;
	spec.twist = twist;
	SAYS(pronate_limb_new(&spec, &limb), PRONATE_OK, "");
	CHECK(limb != 0);
	return limb;
}

static void set(double *to, double x, double y, double z) {
	to[0] = x;
	to[1] = y;
	to[2] = z;
}

static void library(void) {
	CHECK(!*pronate_message());
	CHECK(pronate_version() == (PRONATE_VERSION_MAJOR << 16 | PRONATE_VERSION_MINOR << 8 | PRONATE_VERSION_PATCH));
	CHECK((pronate_features() & ~(uint32_t)PRONATE_AVX2) == 0);
	pronate_limb_spec_init(NULL);
	pronate_limb_spec spec = start();
	CHECK(spec.size == sizeof spec && spec.segments == 0 && spec.axis[1] == 1 && spec.tip_rest[3] == 1);
}

static void limbs(void) {
	pronate_limb limb = make(5, PRONATE_TWIST_OWN);
	CHECK(pronate_limb_segments(limb) == 5);
	SAYS(pronate_limb_free(limb), PRONATE_OK, "");
	SAYS(pronate_limb_free(limb), PRONATE_BAD_LIMB, "has been freed");
	SAYS(pronate_limb_segments(limb), PRONATE_BAD_LIMB, "has been freed");
	SAYS(pronate_limb_segments(0), PRONATE_BAD_LIMB, "limb is 0");
	SAYS(pronate_limb_free(0), PRONATE_OK, "");
	SAYS(pronate_limb_free(UINT64_MAX), PRONATE_BAD_LIMB, "18446744073709551615");
	pronate_limb next = make(2, PRONATE_TWIST_OWN);
	CHECK(next != limb);
	SAYS(pronate_limb_segments(limb), PRONATE_BAD_LIMB, "has been freed");
	CHECK(pronate_limb_segments(next) == 2);
	SAYS(pronate_limb_free(next), PRONATE_OK, "");
}

static void described(void) {
	pronate_limb limb = make(5, PRONATE_TWIST_TIP), same = make(5, PRONATE_TWIST_TIP), other = make(4, PRONATE_TWIST_TIP);
	pronate_limb_info info, second;
	memset(&info, 7, sizeof info);
	SAYS(pronate_limb_describe(limb, &info), PRONATE_BAD_ARGUMENT, "info->size is ");
	info.size = second.size = sizeof info;
	SAYS(pronate_limb_describe(limb, NULL), PRONATE_BAD_ARGUMENT, "info is null");
	SAYS(pronate_limb_describe(0, &info), PRONATE_BAD_LIMB, "limb is 0");
	CHECK(info.segments == 0x07070707); /* nothing was written yet */
	SAYS(pronate_limb_describe(limb, &info), PRONATE_OK, "");
	CHECK(info.size == sizeof info && info.segments == 5 && info.field == PRONATE_FIELD_SHORTEST);
	CHECK(info.has_range == 0 && info.has_tip == 1 && info.reserved == 0);
	CHECK(info.axis[1] == 1 && info.centre[1] == 1 && info.axis[0] == 0 && info.centre[2] == 0);
	CHECK(info.shares[0] == 1 && info.shares[4] == 1 && info.shares[5] == 0 && info.shares[31] == 0);
	CHECK(info.tip_shares[0] == 0 && info.tip_shares[4] == 1 && info.tip_shares[31] == 0);
	SAYS(pronate_limb_describe(same, &second), PRONATE_OK, "");
	CHECK(second.fingerprint == info.fingerprint);
	SAYS(pronate_limb_describe(other, &second), PRONATE_OK, "");
	CHECK(second.fingerprint != info.fingerprint);
	SAYS(pronate_limb_free(limb), PRONATE_OK, "");
	SAYS(pronate_limb_free(same), PRONATE_OK, "");
	SAYS(pronate_limb_free(other), PRONATE_OK, "");
}

/* At rest it is the identity; and half a radian about the bone on top of rest is that. */
static void from_rest(void) {
	const double s = sin(0.25), c = cos(0.25), r = sqrt(0.5), nan[4] = {0, (double)NAN, 0, 1};
	const double rest[4] = {r, 0, 0, r}, turned[4] = {r * c, r * s, r * s, r * c}, twist[4] = {0, s, 0, c};
	pronate_limb_spec spec = start();
	pronate_limb own = make(2, PRONATE_TWIST_OWN), tip;
	spec.twist = PRONATE_TWIST_TIP;
	memcpy(spec.joint_rest, rest, sizeof rest);
	memcpy(spec.tip_rest, rest, sizeof rest);
	SAYS(pronate_limb_new(&spec, &tip), PRONATE_OK, "");
	double joint[4] = {7, 7, 7, 7}, far[4] = {7, 7, 7, 7};
	SAYS(pronate_from_rest(0, identity, rest, rest, joint, far), PRONATE_BAD_LIMB, "limb is 0");
	SAYS(pronate_from_rest(tip, NULL, rest, rest, joint, far), PRONATE_BAD_ARGUMENT, "anchor is null");
	SAYS(pronate_from_rest(tip, identity, NULL, rest, joint, far), PRONATE_BAD_ARGUMENT, "joint is null");
	SAYS(pronate_from_rest(tip, identity, rest, NULL, joint, far), PRONATE_BAD_ARGUMENT, "tip is null");
	SAYS(pronate_from_rest(tip, identity, rest, rest, NULL, far), PRONATE_BAD_ARGUMENT, "out_joint is null");
	CHECK(joint[0] == 7 && far[0] == 7);
	SAYS(pronate_from_rest(tip, identity, rest, turned, joint, far), PRONATE_OK, "");
	for (int i = 0; i < 4; i++) CHECK(fabs(joint[i] - identity[i]) < 4e-15 && fabs(far[i] - twist[i]) < 4e-15);
	SAYS(pronate_from_rest(tip, identity, turned, turned, joint, NULL), PRONATE_OK, "");
	for (int i = 0; i < 4; i++) CHECK(fabs(joint[i] - twist[i]) < 4e-15);
	SAYS(pronate_from_rest(own, rest, turned, NULL, joint, far), PRONATE_OK, "");
	for (int i = 0; i < 4; i++) CHECK(fabs(joint[i] - twist[i]) < 4e-15 && far[i] == identity[i]);
	SAYS(pronate_from_rest(own, zero, twist, NULL, joint, far), PRONATE_UNDEFINED, "anchor is a zero quaternion");
	CHECK(fabs(joint[1] - s) < 4e-15);
	SAYS(pronate_from_rest(own, identity, nan, NULL, joint, NULL), PRONATE_NOT_FINITE, "joint is [0 NaN 0 1]");
	CHECK(isnan(joint[0]) && isnan(joint[3]));
	SAYS(pronate_limb_free(own), PRONATE_OK, "");
	SAYS(pronate_limb_free(tip), PRONATE_OK, "");
}

/* One field changed, and what the message then says. */
#define BAD(change, text)                                            \
	do {                                                             \
		pronate_limb_spec spec = start();                            \
		pronate_limb none = 99;                                      \
		change;                                                      \
		SAYS(pronate_limb_new(&spec, &none), PRONATE_BAD_SPEC, text); \
		CHECK(none == 0);                                            \
	} while (0)

static void specs(void) {
	static const double shares[40] = {0, 0.5, 1};
	static const double far[2] = {0, 2};
	pronate_limb_spec good = start();
	pronate_limb limb = 99;
	SAYS(pronate_limb_new(NULL, &limb), PRONATE_BAD_ARGUMENT, "spec is null");
	CHECK(limb == 0);
	SAYS(pronate_limb_new(&good, NULL), PRONATE_BAD_ARGUMENT, "limb is null");
	BAD(memset(&spec, 0, sizeof spec), "size is 0, expected");
	BAD(spec.size++, "start from pronate_limb_spec_init");
	BAD(spec.segments = 1, "segments is 1, expected 2 to 32");
	BAD(spec.segments = INT32_MIN, "segments is -2147483648");
	BAD(spec.twist = 7, "twist is 7");
	BAD(spec.ramp = -1, "ramp is -1");
	BAD(set(spec.axis, 0, 0, 0), "axis is all 0");
	BAD(set(spec.axis, 0, (double)NAN, 0), "axis is [0 NaN 0]");
	BAD(spec.share_count = 3, "shares is null and share_count 3, expected 0");
	BAD(spec.shares = shares, "share_count is 0, expected 2 to 32");
	BAD((spec.shares = shares, spec.share_count = UINT32_MAX), "share_count is 4294967295");
	BAD((spec.shares = shares, spec.share_count = 33), "share_count is 33");
	BAD((spec.shares = far, spec.share_count = 2), "shares[1] is 2, expected 0 to 1");
	BAD((spec.tip_shares = far, spec.tip_share_count = 2), "tip_shares[1] is 2");
	BAD((spec.tip_shares = shares, spec.tip_share_count = 1), "tip_share_count is 1");
	BAD((spec.shares = shares, spec.share_count = 3, spec.segments = 4), "shares has 3 numbers, expected 4");
	BAD(spec.field = 5, "field is 5");
	BAD(spec.field = PRONATE_FIELD_BALANCED, "field is balanced and range none, expected range hip, shoulder, wrist or limits");
	BAD(spec.field = PRONATE_FIELD_LEAST_ROLL, "field is least_roll and range none, expected range hip, shoulder, wrist or limits");
	BAD(spec.centre_mode = 3, "centre_mode is 3");
	BAD(spec.centre_mode = PRONATE_CENTRE_GIVEN, "centre is [0, 0, 0]");
	BAD(spec.centre[0] = 1, "centre is [1 0 0] and centre_mode 0, expected 2");
	BAD(spec.flexion_deg[1] = 90, "flexion_deg is [0 90] and range 0, expected 4");
	BAD(spec.range = 5, "range is 5");
	BAD(spec.range = PRONATE_RANGE_HIP, "down is [0 0 0], expected a direction of length 1");
	BAD(spec.reserved = 1, "reserved is 1");
	BAD((spec.range = PRONATE_RANGE_LIMITS, set(spec.down, 0, 1, 0), set(spec.forward, 0, 0, 1), set(spec.out, 1, 0, 0)), "flexion_deg is [0 0]");
	BAD(spec.anchor_rest[3] = 0, "anchor_rest is all 0");
	BAD(spec.joint_rest[3] = 0, "joint_rest is all 0");
	BAD(spec.tip_rest[0] = HUGE_VAL, "tip_rest is [+Inf");

	good.shares = shares;
	good.share_count = 3;
	SAYS(pronate_limb_new(&good, &limb), PRONATE_OK, "");
	CHECK(pronate_limb_segments(limb) == 3);
	SAYS(pronate_limb_free(limb), PRONATE_OK, "");
	good = start();
	good.range = PRONATE_RANGE_HIP;
	set(good.axis, 0, -3, 0);
	set(good.down, 0, -1, 0);
	set(good.forward, 0, 0, 1);
	set(good.out, -1, 0, 0);
	SAYS(pronate_limb_new(&good, &limb), PRONATE_OK, "");
	SAYS(pronate_limb_free(limb), PRONATE_OK, "");
}

static void texts(void) {
	static const char text[] = "version: 1\nlimbs:\n  - {joint: thigh_l, end: shin_l, segments: 4, range: hip}\n";
	pronate_limb_spec rest = start();
	pronate_limb limb = 99;
	set(rest.axis, 0, -1, 0);
	SAYS(pronate_limb_from_text(text, strlen(text), "thigh_l", &rest, &limb), PRONATE_OK, "");
	CHECK(pronate_limb_segments(limb) == 4);
	SAYS(pronate_limb_free(limb), PRONATE_OK, "");
	SAYS(pronate_limb_from_text(text, strlen(text), "thigh_r", &rest, &limb), PRONATE_BAD_SPEC, "has no limb \"thigh_r\", expected one of \"thigh_l\"");
	CHECK(limb == 0);
	SAYS(pronate_limb_from_text(text, 20, "thigh_l", &rest, &limb), PRONATE_BAD_SPEC, "limb file:");
	SAYS(pronate_limb_from_text(text, 0, "thigh_l", &rest, &limb), PRONATE_BAD_SPEC, "limb file:1:1: is empty");
	SAYS(pronate_limb_from_text(text, sizeof text, "thigh_l", &rest, &limb), PRONATE_BAD_SPEC, "ends in a NUL byte");
	SAYS(pronate_limb_from_text(text, SIZE_MAX, "thigh_l", &rest, &limb), PRONATE_BAD_ARGUMENT, "length is 18446744073709551615");
	SAYS(pronate_limb_from_text(NULL, 1, "thigh_l", &rest, &limb), PRONATE_BAD_ARGUMENT, "text is null");
	SAYS(pronate_limb_from_text(text, strlen(text), NULL, &rest, &limb), PRONATE_BAD_ARGUMENT, "name is null");
	SAYS(pronate_limb_from_text(text, strlen(text), "thigh_l", NULL, &limb), PRONATE_BAD_ARGUMENT, "rest is null");
	SAYS(pronate_limb_from_text(text, strlen(text), "thigh_l", &rest, NULL), PRONATE_BAD_ARGUMENT, "limb is null");
	/* A leg that lies folded up at rest is not in a person's range. */
	set(rest.axis, 0, 1, 0);
	SAYS(pronate_limb_from_text(text, strlen(text), "thigh_l", &rest, &limb), PRONATE_RANGE_LEFT_OUT, "which is left aside");
	CHECK(strstr(pronate_message(), "its field is shortest") != NULL);
	CHECK(pronate_limb_segments(limb) == 4);
	SAYS(pronate_limb_free(limb), PRONATE_OK, "");
	rest.joint_rest[2] = (double)NAN;
	SAYS(pronate_limb_from_text(text, strlen(text), "thigh_l", &rest, &limb), PRONATE_BAD_SPEC, "joint_rest is [0 0 NaN 1]");
	rest.size = 8;
	SAYS(pronate_limb_from_text(text, strlen(text), "thigh_l", &rest, &limb), PRONATE_BAD_SPEC, "size is 8");

	/* A message is one line of text, however long and strange what it tells of. */
	static char name[5000];
	memset(name, 'a', sizeof name - 1);
	name[3] = '\n';
	name[7] = '\x1b';
	rest = start();
	SAYS(pronate_limb_from_text(text, strlen(text), name, &rest, &limb), PRONATE_BAD_SPEC, "has no limb \"aaa\\");
	CHECK(strlen(pronate_message()) == 1023);
}

static void one(void) {
	pronate_limb own = make(3, PRONATE_TWIST_OWN), tip = make(3, PRONATE_TWIST_TIP);
	double segments[12], again[12];
	pronate_result r;
	/* Half a radian about the bone: the root turns it back, the end has it all. */
	const double twist[4] = {0, sin(0.25), 0, cos(0.25)}, back[4] = {0, -sin(0.25), 0, cos(0.25)};
	SAYS(pronate_solve(own, twist, NULL, segments, &r), PRONATE_OK, "");
	CHECK(fabs(r.twist - 0.5) < 1e-15 && r.tip_twist == 0 && r.condition == 1 && r.tip_condition == 1);
	for (int i = 0; i < 4; i++) {
		CHECK(fabs(segments[i] - back[i]) < 4e-15);
		CHECK(fabs(segments[8 + i] - identity[i]) < 4e-15);
	}
	SAYS(pronate_solve(tip, some, twist, segments, &r), PRONATE_OK, "");
	CHECK(fabs(r.tip_twist - 0.5) < 1e-15 && segments[3] == 1 && fabs(segments[9] - sin(0.25)) < 4e-15);
	SAYS(pronate_solve(own, some, NULL, segments, NULL), PRONATE_OK, "");
	SAYS(pronate_solve_f64(own, again, some, NULL, 1), PRONATE_OK, "");
	CHECK(!memcmp(segments, again, sizeof again));
	SAYS(pronate_solve(own, half_turn, NULL, segments, &r), PRONATE_UNDEFINED, "1 of 1 poses have an undefined twist");
	CHECK(r.twist == 0 && segments[3] == 1);
	SAYS(pronate_solve(own, zero, NULL, segments, &r), PRONATE_UNDEFINED, "undefined");
	const double nan[4] = {0, (double)NAN, 0, 1}, inf[4] = {0, HUGE_VAL, 0, 1};
	SAYS(pronate_solve(own, nan, NULL, segments, &r), PRONATE_NOT_FINITE, "1 of 1 poses came with NaN or Inf");
	CHECK(isnan(r.twist) && isnan(segments[0]) && isnan(segments[11]));
	SAYS(pronate_solve(tip, some, inf, segments, &r), PRONATE_NOT_FINITE, "NaN or Inf");

	memset(segments, 7, sizeof segments);
	memcpy(again, segments, sizeof again);
	SAYS(pronate_solve(0, some, NULL, segments, &r), PRONATE_BAD_LIMB, "limb is 0");
	SAYS(pronate_solve(own, NULL, NULL, segments, &r), PRONATE_BAD_ARGUMENT, "joint is null");
	SAYS(pronate_solve(own, some, NULL, NULL, &r), PRONATE_BAD_ARGUMENT, "segments is null");
	SAYS(pronate_solve(tip, some, NULL, segments, &r), PRONATE_BAD_ARGUMENT, "tip is null");
	CHECK(!memcmp(segments, again, sizeof again));
	CHECK(!strcmp(pronate_message(), "tip is null, expected rotations of the tip: the limb has tip shares"));
	SAYS(pronate_limb_free(own), PRONATE_OK, "");
	SAYS(pronate_limb_free(tip), PRONATE_OK, "");
	SAYS(pronate_solve(own, some, NULL, segments, &r), PRONATE_BAD_LIMB, "has been freed");
}

/* The two precisions have the same checks. */
#define PRECISION f32
#define REAL float
#include "check_arrays.h"
#undef PRECISION
#undef REAL
#define PRECISION f64
#define REAL double
#include "check_arrays.h"

/* Every thread has a message of its own, and limbs are for all. */
static pronate_limb shared;
static int wrong[8];

static int work(void *at) {
	int *bad = (int *)at;
	double segments[12];
	*bad += *pronate_message() != 0;
	for (int i = 0; i < 500; i++) {
		*bad += pronate_solve(shared, some, NULL, segments, NULL) != PRONATE_OK || *pronate_message();
		*bad += pronate_limb_segments(0) != PRONATE_BAD_LIMB || !strstr(pronate_message(), "limb is 0");
		pronate_limb_spec spec = start();
		pronate_limb own;
		*bad += pronate_limb_new(&spec, &own) != PRONATE_OK || pronate_limb_free(own) != PRONATE_OK || pronate_limb_free(own) != PRONATE_BAD_LIMB;
	}
	return 0;
}

static void threads(void) {
	thrd_t all[8];
	shared = make(3, PRONATE_TWIST_OWN);
	SAYS(pronate_limb_free(1), PRONATE_BAD_LIMB, "limb 1 ");
	for (int i = 0; i < 8; i++) CHECK(thrd_create(&all[i], work, &wrong[i]) == thrd_success);
	for (int i = 0; i < 8; i++) {
		CHECK(thrd_join(all[i], NULL) == thrd_success);
		CHECK(wrong[i] == 0);
	}
	CHECK(strstr(pronate_message(), "limb 1 ") != NULL);
	SAYS(pronate_limb_free(shared), PRONATE_OK, "");
}

int main(void) {
	library();
	limbs();
	described();
	from_rest();
	specs();
	texts();
	one();
	arrays_f32();
	arrays_f64();
	threads();
	printf("%d checks, %d failed\n", checks, failures);
	return failures != 0;
}
