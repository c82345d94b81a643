package record

import (
	"fmt"

	"example.org/trammel/indicator/part"
)

// PartWays is what so many parts take, counted: each part through all settings, or each setting for all parts. Nothing is said of
// times: nobody knows them.
type PartWays struct {
	Parts            int      `json:"parts"`
	PartByPart       PartsWay `json:"part_by_part"`
	SettingBySetting PartsWay `json:"setting_by_setting"`
	// Quicker is the way that takes no more of anything; null where each takes more of something.
	Quicker *string `json:"quicker"`
	// SetUpsPerClamping is how many set-ups setting by setting saves for each clamping that it takes more; null where it takes none.
	SetUpsPerClamping Number `json:"set_ups_per_clamping"`
	stations          int
}

// PartsWay is what one of the ways takes.
type PartsWay struct {
	Clampings   int `json:"clampings"`
	SetUps      int `json:"set_ups"`
	Verified    int `json:"verified"`
	ChangeOvers int `json:"change_overs"`
	Cutters     int `json:"cutters"`
	Readings    int `json:"readings"`
}

const (
	partByPart       = "part by part"
	settingBySetting = "setting by setting"
)

// NewWays counts what so many parts of a plate take, swept at so many stations.
func NewWays(p *part.Plate, parts, stations int) *PartWays {
	one, other := p.Ways(parts, stations)
	x := &PartWays{Parts: parts, PartByPart: PartsWay(one), SettingBySetting: PartsWay(other), SetUpsPerClamping: Number(nan),
		stations: stations}
	if more := other.Clampings - one.Clampings; more > 0 {
		x.SetUpsPerClamping = Number(float64(one.SetUps-other.SetUps) / float64(more))
	} else if parts > 1 {
		quicker := settingBySetting
		x.Quicker = &quicker
	}
	return x
}

// Text spells both ways, and what decides between them.
func (x *PartWays) Text() string {
	one, other := &x.PartByPart, &x.SettingBySetting
	out := fmt.Sprintf("%d parts, counted, with sweeps of %d and five readings behind the winds:", x.Parts, x.stations)
	out += fmt.Sprintf("\n  %s: %s", partByPart, one.text())
	out += fmt.Sprintf("\n  %s: %s", settingBySetting, other.text())
	saved, more := one.SetUps-other.SetUps, other.Clampings-one.Clampings
	switch {
	case x.Parts == 1:
		return out + "\n  for one part both are the same"
	case more == 0:
		return out + fmt.Sprintf("\n  %s is quicker: it takes %s and %s less, and no clamping more", settingBySetting,
			count(saved, "set-up"), count(one.Readings-other.Readings, "reading"))
	}
	return out + fmt.Sprintf("\n  %s saves %s with their winds, %s and %s, and takes %s more: it is quicker where putting a part on and "+
		"clocking it takes less than %.2f set-ups, of %d readings each beyond the five of a check", settingBySetting,
		count(saved, "set-up"), count(one.Readings-other.Readings, "reading"), count(one.Cutters-other.Cutters, "change")+" of the cutter",
		count(more, "clamping"), float64(x.SetUpsPerClamping), x.stations)
}

func (w *PartsWay) text() string {
	out := fmt.Sprintf("%s, %s", count(w.Clampings, "clamping"), count(w.SetUps, "set-up"))
	if w.Verified > 0 {
		out += fmt.Sprintf(", %s by a sweep of five", count(w.Verified, "check"))
	}
	return out + fmt.Sprintf(", %s, %s in, %s", count(w.ChangeOvers, "change-over"), count(w.Cutters, "cutter"),
		count(w.Readings, "reading"))
}
