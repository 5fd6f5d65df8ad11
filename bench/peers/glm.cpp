// The tasks as one would write them with GLM.
#include "peer.hpp"

#define GLM_ENABLE_EXPERIMENTAL
#include <glm/glm.hpp>
#include <glm/gtc/quaternion.hpp>
#include <glm/gtx/quaternion.hpp>

template <class T> void limb() {
	using Quat = glm::qua<T>;
	using Vec = glm::vec<3, T>;
	const auto poses = load<T, Quat>("poses");
	const Vec axis = load<T, Vec>("axis")[0];
	const std::vector<T> k = shares<T>();
	std::vector<Quat> out(poses.size() * segments);

	row<T>("limb", "GLM, by slerp", out, poses.size(), [&] {
		for (size_t i = 0; i < poses.size(); i++) {
			const Quat q = poses[i];
			const Quat twist = glm::normalize(Quat(q.w, axis * glm::dot(Vec(q.x, q.y, q.z), axis)));
			const Quat back = glm::conjugate(twist);
			for (int j = 0; j < segments; j++) // slerp goes the short way round
				out[i * segments + j] = glm::slerp(back, Quat(1, 0, 0, 0), k[j] + 1);
		}
	});
	row<T>("limb", "GLM, by angleAxis", out, poses.size(), [&] {
		for (size_t i = 0; i < poses.size(); i++) {
			Quat q = poses[i];
			if (q.w < 0) q = -q;
			const Quat twist = glm::normalize(Quat(q.w, axis * glm::dot(Vec(q.x, q.y, q.z), axis)));
			const T angle = glm::angle(twist);
			const Vec about = glm::axis(twist);
			for (int j = 0; j < segments; j++)
				out[i * segments + j] = glm::angleAxis(k[j] * angle, about);
		}
	});
	row<T>("limb", "GLM, careful", out, poses.size(), [&] {
		for (size_t i = 0; i < poses.size(); i++) {
			const Quat q = poses[i];
			const T p = glm::dot(Vec(q.x, q.y, q.z), axis);
			const T half = std::atan2(std::copysign(T(1), q.w) * p, std::abs(q.w));
			for (int j = 0; j < segments; j++)
				out[i * segments + j] = glm::angleAxis(2 * k[j] * half, axis);
		}
	});
}

template <class T> void aim() {
	using Quat = glm::qua<T>;
	using Vec = glm::vec<3, T>;
	const auto poses = load<T, Quat>("poses");
	const auto targets = load<T, Vec>("targets");
	const Vec axis = load<T, Vec>("axis")[0];
	std::vector<Quat> out(poses.size());

	row<T>("aim", "GLM, by rotation", out, poses.size(), [&] {
		for (size_t i = 0; i < poses.size(); i++)
			out[i] = glm::rotation(poses[i] * axis, glm::normalize(targets[i])) * poses[i];
	});
	row<T>("aim", "GLM, careful", out, poses.size(), [&] {
		for (size_t i = 0; i < poses.size(); i++) {
			const Vec from = poses[i] * axis, to = glm::normalize(targets[i]);
			Vec half = from + to; // half-way between them
			const T length = glm::length(half);
			if (length > std::numeric_limits<T>::epsilon())
				half /= length;
			else // opposite: any half turn across
				half = glm::normalize(glm::cross(from, std::abs(from.x) < T(0.5) ? Vec(1, 0, 0) : Vec(0, 1, 0)));
			out[i] = Quat(glm::dot(from, half), glm::cross(from, half)) * poses[i];
		}
	});
}

int main(int, char **arguments) {
	char version[64];
	std::snprintf(version, sizeof version, "GLM %d.%d.%d.%d", GLM_VERSION_MAJOR, GLM_VERSION_MINOR, GLM_VERSION_PATCH, GLM_VERSION_REVISION);
	start(arguments, version);
	limb<double>();
	limb<float>();
	aim<double>();
	aim<float>();
}
