package planner_test

import (
	"fmt"
	"log"
	"os"
	"time"

	"mortarboard/planner"
)

// A case is planned from what is known; the rest is presumed and named, or
// stays open. Here a dentin margin and a translucent grade speak against each
// other, and the plan says what would settle it.
func Example() {
	book, err := planner.Load(planner.Rules())
	if err != nil {
		log.Fatal(err)
	}
	c, err := book.Case(map[string][]string{
		"restoration": {"crown"}, "zirconia": {"4Y", "5Y"}, "margin": {"dentin"},
	})
	if err != nil {
		log.Fatal(err)
	}
	plan := book.Plan(c)
	fmt.Println(c)
	fmt.Println("strategy:", plan.Strategy, "leaning:", plan.Leaning)
	for _, reason := range plan.Reasons {
		fmt.Printf("%s for %s: %s\n", reason.Weight, reason.For, reason.ID)
	}
	fmt.Println("ask first:", plan.Open[0].Title)
	// Output:
	// restoration: crown; zirconia grade: 4Y or 5Y; margin: dentin
	// strategy: depends leaning: bond
	// strong for bond: translucent
	// strong for cement: dentin-margin
	// weak for bond: dentin-margin-kept-dry
	// ask first: retentive form
}

// Measurements of the preparation settle its retentive form.
func ExampleRulebook_Plan_measurements() {
	book := planner.MustLoad()
	c, err := book.Case(map[string][]string{
		"restoration": {"crown"}, "zirconia": {"3Y"}, "position": {"molar"},
		"height_mm": {"2.8"}, "convergence_deg": {"18"},
	})
	if err != nil {
		log.Fatal(err)
	}
	plan := book.Plan(c)
	fmt.Println("form:", plan.Form.Verdict)
	fmt.Println("strategy:", plan.Strategy)
	for _, step := range plan.Steps {
		if step.Stage == "priming" {
			fmt.Println(step.ID)
		}
	}
	// Output:
	// form: inadequate
	// strategy: bond
	// prime-non-retentive
}

// A setting is looked up by its key; the case selects the rows that apply.
func ExampleRulebook_Settings() {
	book := planner.MustLoad()
	c, err := book.Case(map[string][]string{"zirconia": {"5Y"}, "abrasive": {"alumina"}})
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range book.Settings(c, "abrasion.pressure") {
		fmt.Printf("%s of %s: %v to %v %s (%s)\n", p.Name, p.Of, p.Low, p.High, p.Unit, p.Basis)
	}
	// Output:
	// pressure of abrading translucent zirconia gently with alumina: 1 to 1.5 bar (inferred)
}

// A practice brings its shelf and its rules of the house.
func ExampleRulebook_With() {
	practice, err := planner.LoadPractice(os.DirFS("../testdata/practice"))
	if err != nil {
		log.Fatal(err)
	}
	book, err := planner.MustLoad().With(practice)
	if err != nil {
		log.Fatal(err)
	}
	c, err := book.Case(map[string][]string{"restoration": {"crown"}, "zirconia": {"3Y"}})
	if err != nil {
		log.Fatal(err)
	}
	plan := book.Plan(c)
	warnings := book.Equip(plan, time.Date(2026, 11, 24, 9, 0, 0, 0, time.UTC))
	for _, step := range plan.Steps {
		if step.Stage == "cement" {
			fmt.Println("cement:", step.Product.Class)
		}
	}
	fmt.Println("warnings:", len(warnings))
	for _, d := range book.Departures(plan) {
		fmt.Printf("%s: %s (%s)\n", d.Where, d.What, d.By)
	}
	// Output:
	// cement: conventional glass ionomer
	// warnings: 1
	// house.yaml:3: pressure, abrading 3Y with alumina, is 1.5 to 2 bar here: We keep to the lower half on 3Y, since more pressure brought no better bond. (house rule, approved by Dr Ottoline Varga on 2026-05-04)
}
