// What every peer in C++ shares: reading the data, timing, and reporting as
// bench/peers.go expects. Called with a folder, the seconds of a round and a
// regular expression of the rows wanted.
#pragma once

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <limits>
#include <regex>
#include <string>
#include <vector>

inline std::string folder;
inline double round_seconds;
inline std::regex wanted;

#ifdef __FAST_MATH__
inline const std::string flags = ", -ffast-math";
#else
inline const std::string flags = "";
#endif

constexpr int segments = 4;
constexpr int rounds = 3;

template <class T> const std::string precision = sizeof(T) == 8 ? "float64" : "float32";

inline void start(char **arguments, const std::string &library) {
	folder = arguments[1];
	round_seconds = std::atof(arguments[2]);
	wanted = std::regex(arguments[3]);
	std::printf("{\"version\": \"%s, g++ %s\"}\n", library.c_str(), __VERSION__);
}

// load reads a file of T as elements E that are made of nothing but T.
template <class T, class E> std::vector<E> load(const std::string &name) {
	std::ifstream in(folder + "/" + name + "." + precision<T>, std::ios::binary | std::ios::ate);
	std::vector<E> out(in.tellg() / sizeof(E));
	in.seekg(0);
	in.read(reinterpret_cast<char *>(out.data()), out.size() * sizeof(E));
	if (!in) {
		std::fprintf(stderr, "cannot read %s\n", name.c_str());
		std::exit(1);
	}
	return out;
}

// shares are the k_i - 1 of k_i = i/(n-1). Not constants: a limb's shares are
// read from a file.
template <class T> std::vector<T> shares() {
	std::vector<T> out(segments);
	for (int i = 0; i < segments; i++) out[i] = T(i) / T(segments - 1) - 1;
	return out;
}

// fastest is the least time of a pass, in nanoseconds.
template <class Pass> double fastest(Pass pass) {
	using clock = std::chrono::steady_clock;
	double least = std::numeric_limits<double>::infinity();
	long passes = 1;
	for (int round = 0; round < rounds;) {
		auto begin = clock::now();
		for (long i = 0; i < passes; i++) {
			pass();
			asm volatile("" ::: "memory"); // every pass writes all it computed
		}
		double seconds = std::chrono::duration<double>(clock::now() - begin).count();
		if (seconds < round_seconds) {
			passes = seconds < round_seconds / 10 ? passes * 10 : long(passes * 1.2 * round_seconds / seconds) + 1;
			continue;
		}
		least = std::min(least, seconds / passes * 1e9);
		round++;
	}
	return least;
}

inline bool is_wanted(const std::string &task, const std::string &name, const std::string &precision) {
	return std::regex_search(task + " " + name + " " + precision, wanted);
}

// row times a pass over limbs limbs and keeps what it wrote to out.
template <class T, class E, class Pass>
void row(const std::string &task, std::string name, std::vector<E> &out, size_t limbs, Pass pass) {
	name += flags;
	if (!is_wanted(task, name, precision<T>)) return;
	double ns = fastest(pass) / limbs;
	std::string file = task + " " + name + "." + precision<T>;
	std::ofstream(folder + "/" + file, std::ios::binary)
		.write(reinterpret_cast<const char *>(out.data()), out.size() * sizeof(E));
	std::printf("{\"task\": \"%s\", \"name\": \"%s\", \"precision\": \"%s\", \"ns_per_limb\": %.6g, \"answers\": \"%s\"}\n",
		task.c_str(), name.c_str(), precision<T>.c_str(), ns, file.c_str());
}
