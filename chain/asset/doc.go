// Package asset reads skinned characters from glTF 2.0, finds their limbs,
// splits them and writes the result.
//
//	character, err := asset.Open("wren.glb")
//	split, report, err := asset.Split(character, asset.Options{})
//	err = split.Save("wren-split.glb")
//
// [Open] and [Decode] read a .glb or .gltf file whole and check it: what passes
// may be indexed without further checks, and malformed, truncated or hostile
// files end in an error of one line. [Detect] proposes limbs, [ParseLimbs]
// reads them from a limb file. [Split] puts deform segments in place of the
// limbs' joints, hands the skin's weights on to them and bakes the clips;
// [File.Save] writes. [File.Evaluator] poses and skins a file as a viewer
// would, [AddClip] adds a clip, and [AuditHinges] looks at knees and elbows.
// [LimbSpec.Solver] solves a limb of a limb file without a character.
//
// Split measures before it writes: what limbs leave open is decided on the character's
// own skin, in poses of its clips and of its ranges of motion, and a limb that would
// get worse or would gain nothing is left as it is. [Report] has what was decided as
// [Choice] values. [Choose] decides once for a character whose clips are in files of
// their own, and Options.AsAsked decides nothing.
//
// Everything that a split does not touch is carried through as it came, also
// what this package does not know: files are written by patching their JSON.
//
// # Conventions
//
// Those of glTF 2.0: right-handed, +Y up, metres; a character faces +Z and has
// its left at +X; quaternions in files are x, y, z, w. In Go rotations are
// quat.Number{Real: w, Imag: x, Jmag: y, Kmag: z}, Hamilton and active, a*b
// applies b first. Angles are radians in options and in what a limb's solver
// tells; they are degrees in what a limb file or a range file has, whose fields
// are named so ([Range.FlexionDeg]), and in reports, whose JSON names say so.
//
// # Rest
//
// Rest is the bind pose: that in which the skins' inverse bind matrices have the
// joints. The pose of the nodes themselves, which a viewer shows without a clip, is
// one more pose ([NodePose]); in many files it is a frame of some clip. Limbs, axes,
// lengths, ranges and twist are measured at rest. Joints about which skins disagree,
// joints whose matrix has no inverse, nodes that are no joints, and all nodes where
// no skin has matrices, rest as their nodes stand.
//
// # Limits
//
// Files with compressed meshes are refused. The memory that reading takes is
// bounded by a multiple of the input's size: the JSON takes up to a few hundred
// bytes for each byte in the worst case (an array of empty nodes), decoded
// accessors at most 64 for each and 16 MiB beyond.
package asset
