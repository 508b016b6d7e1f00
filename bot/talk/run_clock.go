package talk

import (
	"fmt"
	"time"

	"mortarboard/planner"
	"mortarboard/planner/sums"
)

// spans are the least and the most time that the settings of a step leave it; 0 without one.
func spans(p *planner.Plan, s planner.PlannedStep) (least, most time.Duration) {
	settings, _ := p.Fitting(s)
	least = timeOf(settings, s.Timer, func(p *planner.Parameter) float64 { return p.Low }, func(a, b time.Duration) bool { return a > b })
	most = timeOf(settings, s.Within, func(p *planner.Parameter) float64 { return p.High }, func(a, b time.Duration) bool { return a < b })
	return least, most
}

// timeOf is an end of the setting that a step's clock goes by; 0 without one. Of
// several settings, where the case leaves them open, the one that further tells counts.
func timeOf(settings []*planner.Parameter, key string, end func(*planner.Parameter) float64, further func(a, b time.Duration) bool) time.Duration {
	var out time.Duration
	for _, p := range settings {
		seconds, err := sums.Quantity{Value: end(p), Unit: sums.Unit(p.Unit)}.In(sums.Second)
		if asked := time.Duration(seconds.Value * float64(time.Second)); p.Key == key && err == nil && (out == 0 || further(asked, out)) {
			out = asked
		}
	}
	return out
}

// offTime says that a step was ticked sooner than its settings ask, or took longer
// than they allow, to the run or for its record. Both are sure in one direction only:
// the time runs from when the step came up.
func (t *Talk) offTime(to string, p *planner.Plan, s planner.PlannedStep, k Tick) string {
	least, most := spans(p, s)
	data := map[string]any{"Step": s.Title, "Took": inWords(k.Took), "Least": inWords(least), "Most": inWords(most), "Left": inWords(least - k.Took)}
	switch {
	case k.Skipped, k.Spared:
		return ""
	case k.Took < least:
		return t.say(to+" early", data)
	case most > 0 && k.Took > most:
		return t.say(to+" late", data)
	}
	return ""
}

// clock says how long the step that is next takes, and until when that is from now. Of a
// time that it may take at most, as that of a cement, the shorter end counts.
func (t *Talk) clock(turn *turn, p *planner.Plan, s planner.PlannedStep) []string {
	least, most := spans(p, s)
	settings, _ := p.Fitting(s)
	soonest := timeOf(settings, s.Within, func(p *planner.Parameter) float64 { return p.Low }, func(a, b time.Duration) bool { return a < b })
	switch {
	case least > 0:
		return []string{t.say("run at least", map[string]any{"Time": inWords(least), "Until": turn.at.Add(least)})}
	case soonest > 0 && soonest < most:
		return []string{t.say("run between", map[string]any{"Soonest": inWords(soonest), "Most": inWords(most), "From": turn.at.Add(soonest)})}
	case most > 0:
		return []string{t.say("run at most", map[string]any{"Time": inWords(most), "Until": turn.at.Add(most)})}
	}
	return nil
}

// inWords writes a time as people say it: "20 s", "6 min", "2 min 30 s", "1 h 5 min".
func inWords(d time.Duration) string {
	d = d.Round(time.Second)
	hours, minutes, seconds := int(d.Hours()), int(d.Minutes())%60, int(d.Seconds())%60
	switch {
	case hours > 0 && minutes > 0:
		return fmt.Sprintf("%d h %d min", hours, minutes)
	case hours > 0:
		return fmt.Sprintf("%d h", hours)
	case minutes > 0 && seconds > 0:
		return fmt.Sprintf("%d min %d s", minutes, seconds)
	case minutes > 0:
		return fmt.Sprintf("%d min", minutes)
	}
	return fmt.Sprintf("%d s", seconds)
}
