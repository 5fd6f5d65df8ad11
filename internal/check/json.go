package check

import "encoding/json"

// measured is a figure as JSON has it: null for what could not be measured.
func measured(x float64) *float64 {
	if !isNumber(x) {
		return nil
	}
	x += 0 // never -0
	return &x
}

// MarshalJSON writes null for what could not be measured.
func (l Loss) MarshalJSON() ([]byte, error) {
	type plain Loss
	return json.Marshal(struct {
		plain
		Strain   *float64 `json:"strain"`
		Radius   *float64 `json:"minimum_radius"`
		Volume   *float64 `json:"volume"`
		Steepest *float64 `json:"steepest_twist_deg"`
	}{plain(l), measured(l.Strain), measured(l.Radius), measured(l.Volume), measured(l.Steepest)})
}

// MarshalJSON writes null for what could not be measured, and for the twist of clips
// that do not key the limb.
func (l Limb) MarshalJSON() ([]byte, error) {
	type plain Limb
	out := struct {
		plain
		ClipsTwist    *float64 `json:"clips_twist_deg"`
		RadiusAtTwist *float64 `json:"radius_at_90_deg"`
		VolumeAtTwist *float64 `json:"volume_at_90_deg"`
	}{plain: plain(l), RadiusAtTwist: measured(l.RadiusAtTwist), VolumeAtTwist: measured(l.VolumeAtTwist)}
	if l.ClipsKeyIt {
		out.ClipsTwist = measured(l.ClipsTwist)
	}
	return json.Marshal(out)
}

// MarshalJSON writes null for what could not be measured.
func (c Count) MarshalJSON() ([]byte, error) {
	type plain Count
	return json.Marshal(struct {
		plain
		Radius     *float64 `json:"minimum_radius"`
		Volume     *float64 `json:"volume"`
		DualRadius *float64 `json:"minimum_radius_dual_quaternion"`
		DualVolume *float64 `json:"volume_dual_quaternion"`
	}{plain(c), measured(c.Radius), measured(c.Volume), measured(c.DualRadius), measured(c.DualVolume)})
}

// MarshalJSON writes clip and time for moments of clips alone: poses that were put
// in are in no clip of the character's.
func (p Pose) MarshalJSON() ([]byte, error) {
	type plain Pose
	out := struct {
		plain
		Clip *string  `json:"clip"`
		Time *float64 `json:"time_s"`
	}{plain: plain(p)}
	if p.Kind == Clip {
		out.Clip, out.Time = &p.Clip, &p.Time
	}
	return json.Marshal(out)
}
