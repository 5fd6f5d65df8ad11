/* What check.c checks in both precisions: PRECISION is f32 or f64, REAL its type. */

#define JOIN2(a, b) a##_##b
#define JOIN(a, b) JOIN2(a, b)
#define ROTATIONS JOIN(pronate_rotations, PRECISION)
#define CONST_ROTATIONS JOIN(pronate_const_rotations, PRECISION)
#define SOLVE JOIN(pronate_solve, PRECISION)
#define LAYOUT JOIN(pronate_solve_layout, PRECISION)
#define AIM JOIN(pronate_aim, PRECISION)

static ROTATIONS JOIN(quaternions, PRECISION)(REAL *at, size_t stride, size_t segment) {
	ROTATIONS r;
	r.x = at;
	r.y = at + 1;
	r.z = at + 2;
	r.w = at + 3;
	r.stride = stride;
	r.segment = segment;
	return r;
}

static CONST_ROTATIONS JOIN(const_quaternions, PRECISION)(const REAL *at) {
	CONST_ROTATIONS r;
	r.x = at;
	r.y = at + 1;
	r.z = at + 2;
	r.w = at + 3;
	r.stride = 4;
	r.segment = 0;
	return r;
}

static void JOIN(arrays, PRECISION)(void) {
	enum { POSES = 70, SEGMENTS = 3, NUMBERS = 4 * POSES * SEGMENTS };
	static REAL joints[4 * POSES], tips[4 * POSES], targets[3 * POSES], dst[NUMBERS], again[NUMBERS], planes[NUMBERS];
	pronate_limb own = make(SEGMENTS, PRONATE_TWIST_OWN), tip = make(SEGMENTS, PRONATE_TWIST_TIP);
	pronate_outcome outcome = {9, 9};
	const double up[3] = {0, 2, 0}, none[3] = {0, 0, 0};
	for (int i = 0; i < 4 * POSES; i++) joints[i] = (REAL)(tips[4 * POSES - 1 - i] = (REAL)((i * 37 % 64 - 31.5) / 32));
	for (int i = 0; i < 3 * POSES; i++) targets[i] = (REAL)((i * 29 % 64 - 31.5) / 32);

	SAYS(SOLVE(tip, dst, joints, tips, POSES), PRONATE_OK, "");
	for (int i = 0; i < POSES * SEGMENTS; i++) {
		double norm = 0;
		for (int k = 0; k < 4; k++) norm += (double)dst[4 * i + k] * (double)dst[4 * i + k];
		CHECK(fabs(norm - 1) < 1e-5 && dst[4 * i + 3] >= 0);
	}
	/* Planes, a segment at a time, have the same bits. */
	CONST_ROTATIONS from = JOIN(const_quaternions, PRECISION)(joints), far = JOIN(const_quaternions, PRECISION)(tips);
	ROTATIONS to;
	to.x = planes;
	to.y = planes + POSES * SEGMENTS;
	to.z = planes + 2 * POSES * SEGMENTS;
	to.w = planes + 3 * POSES * SEGMENTS;
	to.stride = 1;
	to.segment = POSES;
	for (uint32_t workers = 0; workers < 4; workers++) {
		memset(planes, 0, sizeof planes);
		SAYS(LAYOUT(tip, &to, &from, &far, POSES, workers, &outcome), PRONATE_OK, "");
		CHECK(outcome.undefined == 0 && outcome.not_finite == 0);
		int same = 1;
		for (int i = 0; i < NUMBERS; i++) {
			int component = i / (POSES * SEGMENTS), segment = i / POSES % SEGMENTS, pose = i % POSES;
			same = same && planes[i] == dst[4 * (SEGMENTS * pose + segment) + component];
		}
		CHECK(same);
	}

	for (int k = 0; k < 4; k++) {
		joints[k] = (REAL)half_turn[k];
		joints[4 + k] = 0;
		joints[8 + k] = (REAL)NAN;
	}
	SAYS(SOLVE(own, dst, joints, NULL, 2), PRONATE_UNDEFINED, "2 of 2 poses");
	SAYS(SOLVE(own, dst, joints, NULL, POSES), PRONATE_NOT_FINITE, "1 of 70 poses");
	CHECK(isnan(dst[4 * SEGMENTS * 2]) && dst[3] == 1);
	to = JOIN(quaternions, PRECISION)(dst, 4 * SEGMENTS, 4);
	SAYS(LAYOUT(own, &to, &from, NULL, POSES, 2, &outcome), PRONATE_NOT_FINITE, "1 of 70 poses");
	CHECK(outcome.undefined == 2 && outcome.not_finite == 1);
	SAYS(LAYOUT(own, &to, &from, NULL, 2, 2, NULL), PRONATE_UNDEFINED, "2 of 2");

	/* Nothing is written where nothing can be. */
	memset(dst, 7, sizeof dst);
	memcpy(again, dst, sizeof again);
	outcome.undefined = 5;
	SAYS(SOLVE(0, dst, joints, tips, 1), PRONATE_BAD_LIMB, "limb is 0");
	SAYS(SOLVE(own, NULL, joints, NULL, 1), PRONATE_BAD_ARGUMENT, "dst is null");
	SAYS(SOLVE(own, dst, NULL, NULL, 1), PRONATE_BAD_ARGUMENT, "joints is null");
	SAYS(SOLVE(tip, dst, joints, NULL, 1), PRONATE_BAD_ARGUMENT, "tips is null");
	SAYS(SOLVE(own, dst, joints, NULL, SIZE_MAX), PRONATE_BAD_ARGUMENT, "n is 18446744073709551615");
	SAYS(SOLVE(own, dst, joints, NULL, SIZE_MAX / 48 + 1), PRONATE_BAD_ARGUMENT, "n is");
	SAYS(LAYOUT(0, &to, &from, NULL, 1, 0, &outcome), PRONATE_BAD_LIMB, "limb is 0");
	SAYS(LAYOUT(own, NULL, &from, NULL, 1, 0, &outcome), PRONATE_BAD_ARGUMENT, "dst is null");
	SAYS(LAYOUT(own, &to, NULL, NULL, 1, 0, &outcome), PRONATE_BAD_ARGUMENT, "joints is null");
	SAYS(LAYOUT(tip, &to, &from, NULL, 1, 0, &outcome), PRONATE_BAD_ARGUMENT, "tips is null");
	SAYS(LAYOUT(own, &to, &from, NULL, SIZE_MAX, 0, &outcome), PRONATE_BAD_ARGUMENT, "n is");
	to.stride = SIZE_MAX;
	SAYS(LAYOUT(own, &to, &from, NULL, 2, 0, &outcome), PRONATE_BAD_ARGUMENT, "dst has stride 18446744073709551615");
	to.stride = SIZE_MAX / 4 + 1; /* 4 times that is 0 */
	SAYS(LAYOUT(own, &to, &from, NULL, 5, 0, &outcome), PRONATE_BAD_ARGUMENT, "dst has stride");
	to.stride = 0;
	SAYS(LAYOUT(own, &to, &from, NULL, 2, 0, &outcome), PRONATE_BAD_ARGUMENT, "dst has stride 0");
	to.stride = 4; /* a pose's second segment is where the next one's first is */
	SAYS(LAYOUT(own, &to, &from, NULL, 2, 0, &outcome), PRONATE_BAD_ARGUMENT, "do not overlap, such as a stride of 9 or more");
	to.stride = 4 * SEGMENTS;
	to.segment = SIZE_MAX;
	SAYS(LAYOUT(own, &to, &from, NULL, 2, 0, &outcome), PRONATE_BAD_ARGUMENT, "segment 18446744073709551615");
	to.segment = 4;
	to.w = NULL;
	SAYS(LAYOUT(own, &to, &from, NULL, 2, 0, &outcome), PRONATE_BAD_ARGUMENT, "dst->w is null");
	to.w = dst + 3;
	from.x = NULL;
	SAYS(LAYOUT(own, &to, &from, NULL, 2, 0, &outcome), PRONATE_BAD_ARGUMENT, "joints->x is null");
	SAYS(AIM(NULL, dst, tips, targets, 1), PRONATE_BAD_ARGUMENT, "axis is null");
	SAYS(AIM(none, dst, tips, targets, 1), PRONATE_BAD_ARGUMENT, "axis is [0, 0, 0]");
	SAYS(AIM(up, NULL, tips, targets, 1), PRONATE_BAD_ARGUMENT, "dst is null");
	SAYS(AIM(up, dst, NULL, targets, 1), PRONATE_BAD_ARGUMENT, "frames is null");
	SAYS(AIM(up, dst, tips, NULL, 1), PRONATE_BAD_ARGUMENT, "targets is null");
	SAYS(AIM(up, dst, tips, targets, SIZE_MAX), PRONATE_BAD_ARGUMENT, "n is");
	CHECK(!memcmp(dst, again, sizeof again));
	CHECK(outcome.undefined == 5);
	SAYS(SOLVE(tip, NULL, NULL, NULL, 0), PRONATE_OK, "");
	SAYS(AIM(up, NULL, NULL, NULL, 0), PRONATE_OK, "");

	/* A quarter turn about +X takes +Y to +Z. */
	memset(dst, 0, sizeof dst);
	dst[3] = dst[7] = 1;
	targets[0] = targets[1] = 0;
	targets[2] = 4;
	targets[3] = targets[5] = 0;
	targets[4] = -1;
	SAYS(AIM(up, dst, dst, targets, 1), PRONATE_OK, "");
	CHECK(fabs((double)dst[0] - sqrt(0.5)) < 1e-6 && dst[1] == 0 && dst[2] == 0 && fabs((double)dst[3] - sqrt(0.5)) < 1e-6);
	SAYS(AIM(up, dst + 4, dst + 4, targets + 3, 1), PRONATE_UNDEFINED, "1 of 1 frames have no one answer");
	targets[4] = (REAL)HUGE_VAL;
	SAYS(AIM(up, dst, dst, targets, 2), PRONATE_NOT_FINITE, "1 of 2 frames or targets came with NaN or Inf");

	SAYS(pronate_limb_free(own), PRONATE_OK, "");
	SAYS(pronate_limb_free(tip), PRONATE_OK, "");
	SAYS(SOLVE(own, dst, tips, NULL, 1), PRONATE_BAD_LIMB, "has been freed");
}

#undef JOIN2
#undef JOIN
#undef ROTATIONS
#undef CONST_ROTATIONS
#undef SOLVE
#undef LAYOUT
#undef AIM
