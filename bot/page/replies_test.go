package page

import "mortarboard/bot/talk"

// Canned replies, one of each kind, written the way the conversation writes them.

func planReply() talk.Reply {
	pressure := talk.Value{Name: "pressure", Of: "blasting translucent zirconia with glass beads", Low: 2, High: 2, Unit: "bar", Basis: "common practice"}
	particle := talk.Value{Name: "particle size", Of: "abrading translucent zirconia gently with alumina", Low: 25, High: 50, Unit: "µm", Basis: "inferred", Source: "Author 2021, Journal 14:610"}
	return talk.Reply{
		Question: "bond or cement, translucent, margin in dentin", Kind: talk.KindPlan, Strategy: "depends", Leaning: "bond",
		Case: map[string][]any{"zirconia": {"4Y", "5Y"}, "margin": {"dentin"}, "height_mm": {3.5}}, Open: []string{"isolation", "wall_mm"},
		Headline: "It depends; as it stands the facts lean to bonding.", Caution: caution,
		Notices: []string{"The primer on the shelf has expired."},
		Reasons: []talk.Reason{
			{For: "bond", Weight: "strong", Because: "Translucent zirconia is weaker than 3Y; bonding gives it support.", Basis: "published", Source: "Author 2024, Journal 17:365"},
			{For: "cement", Weight: "weak", Because: "A margin in dentin leaks under resin.", Basis: "common practice"},
		},
		Steps: []talk.Step{
			{ID: "rinse", Surface: "restoration", Do: "Rinse the inner surface.", Values: []talk.Value{}},
			{ID: "abrade", Surface: "restoration", Do: "Abrade gently. Yours: Ormsdale Whin.", Values: []talk.Value{particle, pressure}, Caution: "Inside only."},
			{ID: "dry", Surface: "tooth", Do: "Dry the preparation.", Values: []talk.Value{}},
			{ID: "seat", Surface: "cement", Do: "Seat it.", Values: []talk.Value{}, Caution: "Hold it still."},
		},
		Sections: []talk.Section{
			{Title: "Changed", Lines: []string{"zirconia grade: was 3Y, now 4Y or 5Y"}},
			{Title: "Understood", Lines: []string{"zirconia grade: 4Y or 5Y", "margin: dentin", "height of the preparation: 3.5 mm", "height 3.5 mm: not known (the limit: at least 4 mm on a molar)", "the limits are from Author 2001, Journal 85:363-376"}},
			{Title: "Assumed, since nobody has said otherwise", Lines: []string{"restoration: crown", "moisture control: dry"}},
			{Title: "Assumed as usual", Fold: true, Assumes: true, Lines: []string{"load: normal; access: normal; occasion: first seating; haemostatic agent: none; inner surface: saliva"}},
			{Title: "For bonding", Lines: []string{"Translucent zirconia is weaker than 3Y; bonding gives it support. (strong; published)"}},
			{Title: "For conventional cementation", Lines: []string{"A margin in dentin leaks under resin. (weak; common practice)"}},
			{Title: "What settles it", Lines: []string{"Can the field be kept dry?", "How thin is the thinnest wall, in millimetres?", "Also able to change it: resin allergy."}},
			{Title: "Steps, if it is bonded", Fold: true, Lines: []string{
				"1. Rinse the inner surface.",
				"2. Abrade gently. Yours: Ormsdale Whin.\n   particle size: 25 to 50 µm – abrading translucent zirconia gently with alumina (inferred)\n   pressure: at most 2 bar – blasting translucent zirconia with glass beads (common practice)\n   Caution: Inside only.",
				"3. Dry the preparation.",
				"4. Seat it.\n   Caution: Hold it still.",
			}},
			{Title: "Sources", Fold: true, Lines: []string{"Author 2024, Journal 17:365"}},
		},
		Choices:  []talk.Choice{{Fact: "isolation", Ask: "Can the field be kept dry?", Options: []talk.Option{{Label: "dry", Says: "moisture control: dry"}, {Label: "impossible", Says: "moisture control: impossible"}}}},
		Pictures: []talk.Picture{{Name: "balance", Alt: "One strong reason for bonding, one weak for cementing.", SVG: []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), PNG: []byte("png")}},
	}
}

func stopReply() talk.Reply {
	return talk.Reply{
		Question: "veneer, cannot keep it dry", Kind: talk.KindPlan, Strategy: "stop", Case: map[string][]any{"restoration": {"veneer"}},
		Headline: "Stop: do not seat it like this.", Caution: caution,
		Reasons: []talk.Reason{{For: "stop", Weight: "decisive", Because: "It needs bonding and cannot be bonded.", Basis: "common practice"}},
		Steps:   []talk.Step{{ID: "do-not-seat", Surface: "restoration", Do: "Do not seat it today.", Values: []talk.Value{}}},
	}
}

func checkReply() talk.Reply {
	v := talk.Value{Name: "pressure", Of: "abrading 3Y with alumina", Low: 1.5, High: 2, Unit: "bar", Basis: "house rule", Source: "house rule, approved by Dr Ottoline Varga on 2026-05-04"}
	return talk.Reply{
		Question: "60 psi on 3Y ok?", Kind: talk.KindCheck, Verdict: "outside", Case: map[string][]any{"zirconia": {"3Y"}},
		Headline: "No, too high: 60 psi (4.14 bar). The setting is 1.5 to 2 bar.", Caution: caution, Values: []talk.Value{v},
		Sections: []talk.Section{
			{Title: "Held against", Lines: []string{"pressure: 1.5 to 2 bar – abrading 3Y with alumina (house rule: house rule, approved by Dr Ottoline Varga on 2026-05-04): 60 psi = 4.14 bar is outside (2.1 bar too high)"}},
			{Title: "Why", Lines: []string{"No better bond is known from it.", "We keep to the lower half on 3Y."}},
			{Title: "Rests on", Fold: true, Lines: []string{"pressure of abrading 3Y with alumina: house rule, approved by Dr Ottoline Varga on 2026-05-04"}},
		},
	}
}

func valueReply() talk.Reply {
	return talk.Reply{
		Question: "how fast may the bur turn", Kind: talk.KindValue, Headline: "At most 200,000 rpm.", Caution: caution,
		Values: []talk.Value{
			{Name: "speed", Of: "adjusting zirconia", Low: 5000, High: 200000, Unit: "rpm", Basis: "from memory"},
			{Name: "water", Of: "the spray", Low: 50, High: 50, Unit: "mL/min", Basis: "from memory"},
		},
		Sections: []talk.Section{{Title: "Settings", Lines: []string{"water: at least 50 mL/min – the spray (from memory)", "Stop when it glows."}}},
	}
}

func calculationReply() talk.Reply {
	return talk.Reply{
		Question: "3.5 high, 9 wide, 7.8 on top", Kind: talk.KindCalculation, Headline: "Total convergence is 19.5° (15.8 to 23.1°).", Caution: caution,
		Values:   []talk.Value{{Name: "total convergence", Of: "both walls", Low: 15.8, High: 23.1, Unit: "deg", Basis: "computed", Source: "arctangent of the flare over the height"}},
		Pictures: []talk.Picture{{Name: "preparation", Alt: "Cross-section, 3.5 mm high.", PNG: []byte("png")}},
	}
}

func articleReply() talk.Reply {
	return talk.Reply{
		Question: "what is MDP", Kind: talk.KindArticle, Headline: "A monomer that binds to zirconia. [1]", Caution: caution, Entries: []string{"priming-what-is-mdp", "priming-thin-coat"},
		Sections: []talk.Section{
			{Title: "Why", Lines: []string{"• Zirconia has no glass. [from memory]", "• Water undoes the link. [1]"}},
			{Title: "How", Lines: []string{"1. Clean surface first.", "2. One thin coat."}},
			{Title: "", Lines: []string{"Before that:", "  - rinse", "3) a number among others"}},
			{Title: "Sources", Fold: true, Lines: []string{"1. Author 2014, Journal 93:329-334"}},
		},
	}
}

func helpReply() talk.Reply {
	return talk.Reply{Question: "help", Kind: talk.KindHelp, Text: "I answer for seating zirconia.\nType it the way you would say it.\n" + caution, Caution: caution}
}

func declinedReply() talk.Reply {
	return talk.Reply{Question: "", Kind: talk.KindDeclined, Headline: "Please leave that out.", Notices: []string{"Please leave that out.", "It was not kept."}, Private: true}
}

// replies are all canned ones by name.
func replies() map[string]talk.Reply {
	return map[string]talk.Reply{
		"plan": planReply(), "stop": stopReply(), "check": checkReply(), "value": valueReply(), "calculation": calculationReply(),
		"article": articleReply(), "help": helpReply(), "declined": declinedReply(),
	}
}
