package sums

import (
	"errors"
	"strings"
	"testing"
)

func TestLightBehindZirconiaIsABandWithItsWarnings(t *testing.T) {
	b := must(LightBehindZirconia(lightLimits, 1000, 20, 1.5, 16))
	if !(b.Dose.Low < b.Dose.High) || b.Dose.Low < 0.99 || b.Dose.Low > 1.0 || b.Dose.High < 6.02 || b.Dose.High > 6.03 {
		t.Errorf("got %s", b.Dose)
	}
	// exp(-2.0 × 1.5) and exp(-0.8 × 1.5) by hand: 4.979 % and 30.12 %
	if got := b.Share.String() + ", " + b.Irradiance.String(); got != "light that gets through 4.98 to 30.1 %, irradiance behind the zirconia 49.8 to 301 mW/cm²" {
		t.Errorf("got %s", got)
	}
	notes := strings.Join(b.Dose.Notes, "; ")
	for _, want := range []string{"do not rely on light", "falls short even in the best case"} {
		if !strings.Contains(notes, want) {
			t.Errorf("notes %q lack %q", notes, want)
		}
	}
	if thin := must(LightBehindZirconia(lightLimits, 1000, 40, 0.3, 16)); len(thin.Dose.Notes) != 0 {
		t.Errorf("thin wall, long exposure: got notes %q", thin.Dose.Notes)
	}
	half := must(LightBehindZirconia(lightLimits, 1000, 120, 0.5, 16)) // between the two figures of the limit
	if got := strings.Join(half.Dose.Notes, "; "); !strings.HasPrefix(got, "behind more than 0.3 mm do not rely on light") {
		t.Errorf("0.5 mm: got notes %q, wanted the warning", got)
	}
}

// lightLimits are those of the built-in parameters.
var lightLimits = LightLimits{Dose: 16, DoseSource: "a target", AloneMM: 0.3, LampLeast: 80, LampMost: 120, LampSource: "a standard",
	Loss: Span{Low: 0.8, High: 2, Source: "a study", Basis: "inferred"}, MeasuredMM: 2}

// forceLimits are near those of the built-in parameters.
var forceLimits = ForceLimits{
	Retention: Span{Low: 1.4, High: 5.1, Source: "two studies", Basis: "from memory"},
	Bite: map[Position]Span{Molar: {Low: 600, High: 700, Source: "two models", Basis: "inferred"},
		Premolar: {Low: 600, High: 700, Source: "two models", Basis: "inferred"}, Anterior: {Low: 240, High: 340, Source: "a study", Basis: "inferred"}},
}

// blastLimits are those of the built-in parameters, in bar.
var blastLimits = Span{Low: 0.5, High: 6}

// thresholds are those of the built-in parameters.
var thresholds = []Threshold{
	{Unit: DeltaE00, Perceptible: 0.8, Acceptable: 1.8}, {Unit: DeltaEab, Perceptible: 1.2, Acceptable: 2.7},
	{Unit: TP00, Perceptible: 0.62, Acceptable: 2.62}, {Unit: TPab, Perceptible: 1.33, Acceptable: 4.43},
}

func TestLampCheck(t *testing.T) {
	tests := []struct {
		measured float64
		pass     bool
	}{{1000, true}, {800, true}, {799, false}, {1200, true}, {1201, false}, {0, false}}
	for _, tt := range tests {
		if got := must(LampCheck(lightLimits, 1000, tt.measured)); got.Pass != tt.pass {
			t.Errorf("1000 stated, %v measured: got %v (%s)", tt.measured, got.Pass, got.Share)
		}
	}
}

func TestRetentionForceIsAnOrderOfMagnitude(t *testing.T) {
	b := must(RetentionForce(forceLimits, 90))
	if b.Low != 100 || b.High != 500 || len(b.Notes) == 0 {
		t.Errorf("got %s, %q, want 100 to 500 N", b, b.Notes)
	}
	// 2.71 and 1.42 MPa on 90 mm² (BMC Oral Health 2022): 243.9 and 127.8 N
	for _, n := range []float64{243.9, 127.8} {
		if n < b.Low || n > b.High {
			t.Errorf("%v N is outside %s", n, b)
		}
	}
}

func TestBiteForceIsCautious(t *testing.T) {
	unknown, molar := must(BiteForce(forceLimits, "")), must(BiteForce(forceLimits, Molar))
	if unknown.Low != molar.Low || unknown.High != molar.High {
		t.Errorf("no position: got %s, want the molar's", unknown)
	}
	if _, err := BiteForce(forceLimits, "wisdom"); err == nil {
		t.Error("an unknown position: want an error")
	}
}

func TestCheckBlastPressure(t *testing.T) {
	tests := []struct {
		q    Quantity
		want string
	}{
		{Quantity{2, Bar}, ""}, {Quantity{0.5, Bar}, ""}, {Quantity{6, Bar}, ""}, {Quantity{40, PSI}, ""}, {Quantity{0.2, MPa}, ""},
		{Quantity{2, MPa}, "blasting pressure: got 2 MPa (20 bar), allowed 0.5 to 6 bar (0.05 to 0.6 MPa): was 0.2 MPa meant?"},
		{Quantity{25, Bar}, "blasting pressure: got 25 bar, allowed 0.5 to 6 bar (0.05 to 0.6 MPa): was 2.5 bar meant?"},
		{Quantity{60, Bar}, "blasting pressure: got 60 bar, allowed 0.5 to 6 bar (0.05 to 0.6 MPa): was 6 bar meant?"},
		{Quantity{5000, Bar}, "blasting pressure: got 5000 bar, allowed 0.5 to 6 bar (0.05 to 0.6 MPa): check the number and the unit"},
		{Quantity{0.2, Bar}, "blasting pressure: got 0.2 bar, allowed 0.5 to 6 bar (0.05 to 0.6 MPa): check the number and the unit"},
		{Quantity{2, Millimetre}, "mm to bar is no conversion of pressures: use bar, psi, MPa or kPa"},
	}
	for _, tt := range tests {
		err := CheckBlastPressure(blastLimits, tt.q)
		if got := errText(err); got != tt.want {
			t.Errorf("%s: got %q, want %q", tt.q, got, tt.want)
		}
	}
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

func TestJudgeDifference(t *testing.T) {
	tests := []struct {
		value float64
		unit  Unit
		want  Visibility
	}{
		{0, DeltaE00, NotVisible}, {0.8, DeltaE00, NotVisible}, {0.81, DeltaE00, Acceptable}, {1.8, DeltaE00, Acceptable},
		{1.81, DeltaE00, NotAccept}, {1.2, DeltaEab, NotVisible}, {2.7, DeltaEab, Acceptable}, {3.7, DeltaEab, NotAccept},
		{0.62, TP00, NotVisible}, {2.62, TP00, Acceptable}, {4.5, TPab, NotAccept},
	}
	for _, tt := range tests {
		if got, _, err := JudgeDifference(thresholds, tt.value, tt.unit); err != nil || got != tt.want {
			t.Errorf("%v %s: got %s, %v, want %s", tt.value, tt.unit, got, err, tt.want)
		}
	}
	for _, bad := range []Quantity{{-1, DeltaE00}, {1, Bar}} {
		if _, _, err := JudgeDifference(thresholds, bad.Value, bad.Unit); err == nil {
			t.Errorf("%s: want an error", bad)
		}
	}
}

func TestRelativeCrackLoadGuards(t *testing.T) {
	if got := must(RelativeCrackLoad(Layer{WallMM: 0.5}, Layer{WallMM: 1})).Value; got != 0.25 {
		t.Errorf("half the wall: got %v, want a quarter", got)
	}
	bad := [][2]Layer{
		{{WallMM: 0}, {WallMM: 1}},
		{{WallMM: 1, StrengthMPa: 1000}, {WallMM: 1}},
		{{WallMM: 1, CeramicGPa: 205, SupportGPa: 16}, {WallMM: 1}},
		{{1, 0, 205, 210}, {1, 0, 205, 16}},
		{{1, -3, 0, 0}, {1, 5, 0, 0}},
	}
	for _, l := range bad {
		if f, err := RelativeCrackLoad(l[0], l[1]); err == nil {
			t.Errorf("%v: got %s, want an error", l, f)
		}
	}
}

// Each guard is tried with one bad input beside good ones.
func TestGuards(t *testing.T) {
	second := func(_ any, err error) error { return err }
	film := func(um float64) error { _, err := CementVolume(MM(8), MM(7), MM(4), um); return err }
	tests := []struct {
		what string
		err  error
	}{
		{"film thickness", film(0)},
		{"film thickness", film(5000)},
		{"total convergence", second(SeatingLift(30, Deg(0), 0))},
		{"total convergence", second(SeatingLift(30, Angle{5, 6}, 0))},
		{"cement space", second(SeatingLift(30, Deg(12), -5))},
		{"irradiance", second(LightDose(1, 20))},
		{"exposure time", second(LightDose(1000, -1))},
		{"dose", second(ExposureTime(0, 1000))},
		{"thickness of zirconia", second(LightBehindZirconia(lightLimits, 1000, 20, 15, 16))},
		{"dose in front of the zirconia", second(ThicknessWithin(lightLimits, 1000, 10, 16))},
		{"dose in front of the zirconia", second(ThicknessWithin(lightLimits, 1000, 16, 16))},
		{"irradiance", second(LampCheck(lightLimits, 0, 900))},
		{"measured irradiance", second(LampCheck(lightLimits, 1000, -5))},
		{"diameter of the instrument", second(PeripheralSpeed(0, 1000))},
		{"rotation speed", second(PeripheralSpeed(1, 5e6))},
		{"radius of the support circle", second(BiaxialStrength(Disc{1000, 1.2, 9, 0.7, 7, 0.25}))},
		{"radius of the piston", second(BiaxialStrength(Disc{1000, 1.2, 5, 6, 7, 0.25}))},
		{"Poisson's ratio", second(BiaxialStrength(Disc{1000, 1.2, 5, 0.7, 7, 0.5}))},
		{"load", second(ThreePointStrength(BendingBar{-1, 14, 4, 1.2}))},
		{"thickness of the specimen", second(FourPointStrength(BendingBar{300, 14, 1, 8}))},
		{"Weibull modulus", second(FailureProbability(500, 1000, 0))},
		{"side of the connector", second(ConnectorStressRatio(3, 0, 3, 3))},
		{"area of the walls", second(RetentionForce(forceLimits, -3))},
		{"L*", second(CIEDE2000(Lab{101, 0, 0}, Lab{}))},
		{"a* or b*", second(CIELAB76(Lab{50, 300, 0}, Lab{}))},
		{"total convergence", second(MinimumHeight(HalfWall, MM(8), Deg(-3)))},
		{"height", second(ConvergenceLimit(HalfWall, MM(-3), MM(8)))},
		{"taper of one wall", second(BlocksAt(2, 8, 50, 0))},
	}
	for _, tt := range tests {
		var in *InputError
		if !errors.As(tt.err, &in) || in.What != tt.what {
			t.Errorf("want an error about the %s, got %v", tt.what, tt.err)
		}
	}
	if _, _, err := TranslucencyParameter(Lab{L: 60}, Lab{L: 70}); err == nil || !strings.Contains(err.Error(), "swapped") {
		t.Errorf("white darker than black: got %v", err)
	}
}

func TestEveryResultSaysWhereItComesFromAndWhatItCannotSay(t *testing.T) {
	r := must(ResistanceForm(MM(4), MM(10), Deg(16)))
	b := must(LightBehindZirconia(lightLimits, 1000, 20, 1, 16))
	origins := []Origin{
		must(TotalConvergence(MM(9), MM(8), MM(4))).Origin, must(ConvergenceOfWalls(MM(1), MM(1), MM(4))).Origin,
		must(FrustumArea(MM(9), MM(8), MM(4))).Total.Origin, r.Fraction.Origin, r.HalfWall.Limit.Origin, r.TopEdge.Minimum.Origin,
		must(CementVolume(MM(9), MM(8), MM(4), 50)).Thin.Origin, must(SeatingLift(50, Deg(12), 0)).Origin,
		must(LightDose(1000, 20)).Origin, must(ExposureTime(16, 1000)).Origin, b.Dose.Origin, b.Share.Origin,
		must(ThicknessWithin(lightLimits, 1000, 60, 16)).Origin, must(LampCheck(lightLimits, 1000, 900)).Share.Origin,
		must(BiaxialStrength(Disc{1000, 1.2, 5, 0.7, 7, 0.25})).Origin, must(ThreePointStrength(BendingBar{300, 14, 4, 1.2})).Origin,
		must(FailureProbability(500, 1000, 10)).Origin, must(RelativeCrackLoad(Layer{WallMM: 1}, Layer{WallMM: 2})).Origin,
		must(ConnectorStressRatio(3, 3, 4, 4)).Origin, must(RetentionForce(forceLimits, 90)).Origin, must(BiteForce(forceLimits, Molar)).Origin,
		must(PeripheralSpeed(1, 1000)).Origin, must(CIEDE2000(Lab{50, 0, 0}, Lab{51, 0, 0})).Origin,
		must(CIELAB76(Lab{50, 0, 0}, Lab{51, 0, 0})).Origin, must(RetentiveForm(goodacreLimits, nil, nil, nil, "")).Origin,
	}
	for i, o := range origins {
		if o.Formula == "" || o.Source == "" || o.Cannot == "" {
			t.Errorf("result %d: %+v", i, o)
		}
	}
}

func TestRefusals(t *testing.T) {
	all := Refusals()
	if len(all) < 7 {
		t.Fatalf("got %d refusals", len(all))
	}
	for _, r := range all {
		err := Refused(r.Topic)
		var got *Refusal
		if !errors.As(err, &got) || got.Topic != r.Topic || r.Why == "" || r.Instead == "" {
			t.Errorf("%s: got %v", r.Topic, err)
		}
	}
	if err := Refused("the weather"); errors.As(err, new(*Refusal)) {
		t.Error("an unknown topic is no refusal")
	}
}
