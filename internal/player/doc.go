// Package player is a second opinion for the tests: it reads a glTF 2.0 file,
// plays its clips and skins its meshes, and shares no code with the packages
// that write such files. It follows the words of the glTF 2.0 specification
// (Khronos, https://registry.khronos.org/glTF/specs/2.0/glTF-2.0.html),
// sections 3.6 (accessors), 3.7.3 (skins), 3.11 and appendix C (animation),
// and is written to be read beside it, not to be fast.
//
// Everything is float64, right-handed, +Y up, in the file's own unit (metres);
// rotations are x, y, z, w as in the file; times are seconds.
//
// Known limits: only what skinned characters need is read. Cameras, materials
// and textures are skipped, and extensions are ignored, but for the constraints of
// VRMC_node_constraint 1.0, which Pose.Constrained works out.
package player
