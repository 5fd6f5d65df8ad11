// The machine's bound: the bytes of the tasks are read and written, 32 at a
// time, and nothing is computed. It is what a solve would take if sums were free.
#include "peer.hpp"

typedef long vector __attribute__((vector_size(32)));

template <class Pass>
static void bound(const std::string &task, const std::string &name, const std::string &precision, size_t limbs, size_t bytes, Pass pass) {
	if (!is_wanted(task, name, precision)) return;
	double ns = fastest(pass) / limbs;
	std::printf("{\"task\": \"%s\", \"name\": \"%s\", \"precision\": \"%s\", \"ns_per_limb\": %.6g, \"note\": \"%.0f GB/s\"}\n",
		task.c_str(), name.c_str(), precision.c_str(), ns, bytes / ns);
}

template <class T> static void move_bytes(size_t limbs, const std::string &name) {
	const size_t scalar = sizeof(T);
	const size_t n = limbs * 4 * scalar / sizeof(vector); // vectors of rotations
	std::vector<vector> poses(n), targets(n * 3 / 4), out(n * segments);

	bound("limb", name, precision<T>, limbs, 4 * scalar * (1 + segments), [&] {
		const vector *in = poses.data();
		vector *to = out.data();
		for (size_t i = 0; i < n; i++) {
			const vector v = in[i];
			for (int j = 0; j < segments; j++) to[segments * i + j] = v;
		}
	});
	bound("aim", name, precision<T>, limbs, (4 + 3 + 4) * scalar, [&] {
		const vector *in = poses.data(), *at = targets.data();
		vector *to = out.data();
		for (size_t i = 0; i < n / 4; i++) { // the targets take part, so that they are read
			for (int j = 0; j < 3; j++) to[4 * i + j] = in[4 * i + j] ^ at[3 * i + j];
			to[4 * i + 3] = in[4 * i + 3];
		}
	});
}

int main(int, char **arguments) {
	start(arguments, "the machine's bound");
	const size_t limbs = load<double, double>("poses").size() / 4;
	move_bytes<double>(limbs, "only moving the bytes");
	move_bytes<float>(limbs, "only moving the bytes");
	move_bytes<double>(128, "only moving the bytes, 128 limbs");
	move_bytes<float>(128, "only moving the bytes, 128 limbs");
}
