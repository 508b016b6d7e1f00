package sums

import "fmt"

// A Topic is something that people ask for and that is not computed.
type Topic string

// What is not computed.
const (
	GritSize         Topic = "mesh or grit number to micrometres"
	DiamondBand      Topic = "colour band of a diamond to micrometres"
	TaperRetention   Topic = "retention at a given taper"
	LightAtDistance  Topic = "light at a distance from the tip"
	CrownLoad        Topic = "load at which a crown breaks"
	CrownColour      Topic = "colour of a crown over its stump"
	SettingAtWarmth  Topic = "setting time at another temperature"
	BlueLightBudget  Topic = "how long one may look at the curing light"
	GroovedForm      Topic = "resistance with grooves or boxes"
	BondFromStrength Topic = "clinical hold from a laboratory bond strength"
)

// A Refusal says why something is not computed, and what to do instead.
type Refusal struct {
	Topic   Topic
	Why     string
	Instead string
}

// Error puts the refusal in one line.
func (r *Refusal) Error() string {
	return fmt.Sprintf("%s is not computed: %s; %s", r.Topic, r.Why, r.Instead)
}

var refusals = []Refusal{
	{GritSize, "the scales (mesh, FEPA F and P, and others) are not interchangeable, and each grit holds a range of sizes that public tables give differently",
		"read the micrometres on the pack"},
	{DiamondBand, "the colours are in a fixed order, but the size behind a colour varies by maker",
		"go by the order (white finest, then yellow, red, blue, green, black) and the size on the pack"},
	{TaperRetention, "less taper holds better, but the figures that are handed down could not be traced to a source that was read",
		"use the resistance form, and keep to the total convergence that is advised"},
	{LightAtDistance, "it depends on the lamp: at 4 mm one lamp kept 85 % of its output and another 29 %, and no common law fits",
		"measure at your working distance, and keep the tip on the surface or nearly so"},
	{CrownLoad, "shape, support and cement change it by a factor of three, and a load that breaks a crown once says little of years of chewing",
		"compare two designs by the ratio of thickness and strength"},
	{CrownColour, "it needs the spectra of that very ceramic over black and over white, and none are published for zirconia",
		"try it in over the stump colour, and judge measured differences by the thresholds"},
	{SettingAtWarmth, "how strongly warmth speeds up a given cement has not been published where it could be read",
		"know that warmer is faster, and follow the time on the packet"},
	{BlueLightBudget, "it depends on lamp, angle and loupes: from seconds to an hour and a half was found without a filter",
		"wear a filter made for curing light, every time"},
	{GroovedForm, "a groove or a box stops tipping in a way that a flat cross-section does not show",
		"judge it at the die, and take grooves as a help that is not counted"},
	{BondFromStrength, "bond strengths in MPa compare only inside one study",
		"use them for the order of methods, not as a pass mark"},
}

// Refused is the refusal of a topic as an error.
func Refused(t Topic) error {
	for _, r := range refusals {
		if r.Topic == t {
			return &r
		}
	}
	return fmt.Errorf("nothing is known of %q", t)
}

// Refusals lists all that is not computed, with the reasons.
func Refusals() []Refusal { return append([]Refusal(nil), refusals...) }
