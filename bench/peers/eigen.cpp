// The tasks as one would write them with Eigen.
#include "peer.hpp"

#include <Eigen/Geometry>

template <class T> struct Data {
	using Quat = Eigen::Quaternion<T>;
	using Vec = Eigen::Matrix<T, 3, 1>;
	std::vector<Quat> poses = load<T, Quat>("poses");
	std::vector<Vec> targets = load<T, Vec>("targets");
	Vec axis = load<T, Vec>("axis")[0];
	std::vector<T> k = shares<T>();
	size_t n = poses.size();
};

// The library's own functions, one after the other.
template <class T> void by_parts(const Data<T> &d) {
	using Quat = typename Data<T>::Quat;
	std::vector<Quat> limbs(d.n * segments), aims(d.n);

	auto twist = [&](const Quat &q) {
		Quat t;
		t.w() = q.w();
		t.vec() = d.axis * q.vec().dot(d.axis);
		t.normalize();
		if (t.w() < 0) t.coeffs() = -t.coeffs();
		return t;
	};
	row<T>("limb", "Eigen, by slerp", limbs, d.n, [&] {
		for (size_t i = 0; i < d.n; i++) {
			const Quat back = twist(d.poses[i]).conjugate();
			for (int j = 0; j < segments; j++)
				limbs[i * segments + j] = back.slerp(d.k[j] + 1, Quat::Identity());
		}
	});
	row<T>("limb", "Eigen, by AngleAxis", limbs, d.n, [&] {
		for (size_t i = 0; i < d.n; i++) {
			const Eigen::AngleAxis<T> t(twist(d.poses[i]));
			for (int j = 0; j < segments; j++)
				limbs[i * segments + j] = Eigen::AngleAxis<T>(d.k[j] * t.angle(), t.axis());
		}
	});
	row<T>("aim", "Eigen, by setFromTwoVectors", aims, d.n, [&] {
		for (size_t i = 0; i < d.n; i++)
			aims[i] = Quat::FromTwoVectors(d.poses[i] * d.axis, d.targets[i]) * d.poses[i];
	});
}

// Half the twist, in [-pi/2, pi/2], from its sine p and cosine w at any length:
// nothing cancels.
template <class T> T half_twist(T p, T w) { return std::atan2(std::copysign(T(1), w) * p, std::abs(w)); }

// By hand, limb by limb.
template <class T> void careful(const Data<T> &d) {
	using Quat = typename Data<T>::Quat;
	using Vec = typename Data<T>::Vec;
	const Vec axis = d.axis;
	std::vector<Quat> limbs(d.n * segments), aims(d.n);

	auto about = [&](T cosine, T sine) { return Quat(cosine, sine * axis.x(), sine * axis.y(), sine * axis.z()); };
	row<T>("limb", "Eigen, careful", limbs, d.n, [&] {
		for (size_t i = 0; i < d.n; i++) {
			const T half = half_twist(d.poses[i].vec().dot(axis), d.poses[i].w());
			for (int j = 0; j < segments; j++) {
				const T x = d.k[j] * half;
				limbs[i * segments + j] = about(std::cos(x), std::sin(x)); // one sincos
			}
		}
	});
	// The shares are multiples of a third, so one sine and cosine will do.
	row<T>("limb", "Eigen, equal steps only", limbs, d.n, [&] {
		for (size_t i = 0; i < d.n; i++) {
			const T x = half_twist(d.poses[i].vec().dot(axis), d.poses[i].w()) / (1 - segments);
			const T c = std::cos(x), s = std::sin(x);
			T cosine = 1, sine = 0;
			for (int j = segments - 1; j >= 0; j--) {
				limbs[i * segments + j] = about(cosine, sine);
				const T next = cosine * c - sine * s;
				sine = cosine * s + sine * c;
				cosine = next;
			}
		}
	});
	row<T>("aim", "Eigen, careful", aims, d.n, [&] {
		for (size_t i = 0; i < d.n; i++) {
			const Vec from = d.poses[i] * axis, to = d.targets[i].normalized();
			Vec half = from + to; // half-way between them
			const T length = half.norm();
			if (length > std::numeric_limits<T>::epsilon())
				half /= length;
			else // opposite: any half turn across
				half = from.unitOrthogonal();
			Quat arc;
			arc.w() = from.dot(half);
			arc.vec() = from.cross(half);
			aims[i] = arc * d.poses[i];
		}
	});
}

// Step by step over blocks of limbs, component by component: Eigen and the
// compiler use vector instructions for those functions that they have them for.
template <class T> void arrays(const Data<T> &d) {
	constexpr int block = 128;
	using Array = Eigen::Array<T, block, 1>;
	using Quat = typename Data<T>::Quat;
	const T ax = d.axis.x(), ay = d.axis.y(), az = d.axis.z();
	std::vector<Quat> limbs(d.n * segments); // n is a multiple of block

	auto halves = [&](const Quat *q, Array &half) {
		for (int i = 0; i < block; i++)
			half[i] = half_twist(ax * q[i].x() + ay * q[i].y() + az * q[i].z(), q[i].w());
	};
	auto put = [&](Quat *to, const Array &cosine, const Array &sine) {
		for (int i = 0; i < block; i++)
			to[i * segments] = Quat(cosine[i], sine[i] * ax, sine[i] * ay, sine[i] * az);
	};
	row<T>("limb", "Eigen, arrays", limbs, d.n, [&] {
		Array half, x, cosine, sine;
		for (size_t i = 0; i < d.n; i += block) {
			halves(&d.poses[i], half);
			for (int j = 0; j < segments; j++) {
				x = d.k[j] * half;
				cosine = x.cos();
				sine = x.sin();
				put(&limbs[i * segments + j], cosine, sine);
			}
		}
	});
	row<T>("limb", "Eigen, arrays, equal steps only", limbs, d.n, [&] {
		Array half, c, s, cosine, sine, next;
		for (size_t i = 0; i < d.n; i += block) {
			halves(&d.poses[i], half);
			half /= T(1 - segments);
			c = half.cos();
			s = half.sin();
			cosine.setOnes();
			sine.setZero();
			for (int j = segments - 1; j >= 0; j--) {
				put(&limbs[i * segments + j], cosine, sine);
				next = cosine * c - sine * s;
				sine = cosine * s + sine * c;
				cosine = next;
			}
		}
	});
}

template <class T> void all() {
	const Data<T> d;
	careful(d);
	arrays(d);
#ifndef __FAST_MATH__
	by_parts(d);
#endif
}

int main(int, char **arguments) {
	char version[64];
	std::snprintf(version, sizeof version, "Eigen %d.%d.%d", EIGEN_WORLD_VERSION, EIGEN_MAJOR_VERSION, EIGEN_MINOR_VERSION);
	start(arguments, version);
	all<double>();
	all<float>();
}
