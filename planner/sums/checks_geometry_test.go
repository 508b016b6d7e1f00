package sums

import "fmt"

func geometryTables() []table {
	return []table{
		{"total convergence", separate, 0.0005, Degree, convergenceChecks()},
		{"total convergence, span for ±0.1 to ±0.3 mm at the margin", separate, 0.05, Degree, convergenceSpans()},
		{"total convergence of a die",
			"Bottino et al. 2007, Quintessence Int 38(7):e425, dimensions of the die; angle by " + separate, 0.005, Degree,
			[]check{{"8/6.4/5.5", must(TotalConvergence(MM(8), MM(6.4), MM(5.5))).Value, 16.55}}},
		{"total convergence of unlike walls", "trigonometry: arctan 1/1 and arctan 1/√3 in degrees", 1e-9, Degree, []check{
			{"1 and 0 over 1", must(ConvergenceOfWalls(MM(1), MM(0), MM(1))).Value, 45},
			{"1 and 1 over √3", must(ConvergenceOfWalls(MM(1), MM(1), MM(1.7320508075688772))).Value, 60},
		}},
		{"frustum, slant", separate, 0.00005, Millimetre, frustumChecks(0)},
		{"frustum, walls", separate, 0.0005, MM2, frustumChecks(1)},
		{"frustum, top", separate, 0.0005, MM2, frustumChecks(2)},
		{"frustum, walls and top", separate, 0.0006, MM2, frustumChecks(3)},
		{"frustum, stump", separate, 0.0005, Microlitre, frustumChecks(4)},
		{"square stump, walls", separate + "; model of 9 mm squares as in \"Surface area improvement with grooves and boxes\"",
			0.005, MM2, squareChecks(0)},
		{"square stump, walls and top", separate, 0.005, MM2, squareChecks(1)},
	}
}

func convergenceChecks() []check {
	var out []check
	for _, r := range [][4]float64{
		{10, 9.0, 4, 14.250}, {10, 8.6, 4, 19.852}, {8, 6.4, 5.5, 16.552},
		{7, 6.0, 5, 11.421}, {9, 7.5, 3, 28.072}, {10, 7.0, 4, 41.112},
	} {
		out = append(out, check{fmt.Sprint(r[:3]), must(TotalConvergence(MM(r[0]), MM(r[1]), MM(r[2]))).Value, r[3]})
	}
	return out
}

func convergenceSpans() []check {
	var out []check
	for _, r := range [][3]float64{{0.1, 18.5, 21.2}, {0.2, 17.1, 22.6}, {0.3, 15.7, 24.0}} {
		f := must(TotalConvergence(Length{10, r[0]}, MM(8.6), MM(4)))
		out = append(out, check{fmt.Sprint("low ", r[0]), f.Low, r[1]}, check{fmt.Sprint("high ", r[0]), f.High, r[2]})
	}
	return out
}

// frustumChecks gives one column: slant, walls, top, walls and top, stump.
func frustumChecks(column int) []check {
	var out []check
	for _, r := range [][8]float64{
		{10, 8.6, 4, 4.0608, 118.643, 58.088, 176.731, 272.229},
		{8, 6.4, 5.5, 5.5579, 125.716, 32.170, 157.886, 224.854},
		{7, 5.5, 4, 4.0697, 79.908, 23.758, 103.667, 123.308},
		{6, 4.5, 5, 5.0559, 83.389, 15.904, 99.294, 108.974},
	} {
		f := must(FrustumArea(MM(r[0]), MM(r[1]), MM(r[2])))
		got := []Figure{f.Slant, f.Lateral, f.Top, f.Total, f.Solid}[column]
		out = append(out, check{fmt.Sprint(r[:3]), got.Value, r[3+column]})
	}
	return out
}

func squareChecks(column int) []check {
	var out []check
	for _, r := range [][4]float64{
		{3, 2, 106.81, 184.08}, {3, 10, 103.22, 166.30}, {3, 25, 100.64, 139.11},
		{4, 2, 141.85, 217.90}, {4, 10, 134.76, 192.36}, {4, 25, 125.96, 153.73},
	} {
		walls, total, err := SquareArea(9, r[0], r[1])
		if err != nil {
			panic(err)
		}
		out = append(out, check{fmt.Sprint("9 mm, height and taper ", r[:2]), []Figure{walls, total}[column].Value, r[2+column]})
	}
	return out
}

func resistanceTables() []table {
	return []table{
		{"resistance, half-wall limit", separate, 0.01, Degree, limitChecks(HalfWall)},
		{"resistance, top-edge limit", separate, 0.01, Degree, limitChecks(TopEdge)},
		{"resistance, least height by the half-wall rule", separate, 0.005, Millimetre, minimumChecks()},
		{"resistance, half-wall limit of a 10 mm die 3 mm high",
			"Parker et al. 1988, J Prosthet Dent 59:281-288 (17.4°), as quoted in notes on Goodacre 2001", 0.1, Degree,
			[]check{{"10 mm, 3 mm", must(ConvergenceLimit(HalfWall, MM(3), MM(10))).Value, 17.4}}},
		{"resistance, 15 steel dies: did the casting stay on",
			"Woolsey & Matich 1978, J Am Dent Assoc 97:978-980; die width not in the abstract, 11.9 mm fits all 15", 0, "", woolsey()},
		{"resistance, verdicts on published dies",
			"Weed & Baez 1984 and Woolsey & Matich 1978 as quoted in notes on Goodacre 2001; Proussaefs et al., J Prosthet Dent", 0, "", publishedDies()},
		{"advice of 2001 against the half-wall rule",
			"Goodacre, Campagni, Aquilino 2001 (ratio 0.4, 20°); limits by " + separate, 0.05, "", []check{
				{"convergence that ratio 0.4 allows", must(ConvergenceLimit(HalfWall, MM(4), MM(10))).Value, 23.6},
				{"ratio that 20° needs, times 10", must(MinimumHeight(HalfWall, MM(10), Deg(20))).Value, 3.42},
			}},
	}
}

func limitChecks(c Criterion) []check {
	const halfTwo = 2 // the tables give half-wall as total convergence, top-edge per wall
	var out []check
	for _, r := range [][4]float64{
		{2.5, 10, 14.48, 15.00}, {3, 10, 17.46, 18.43}, {3.5, 10, 20.49, 22.21}, {4, 10, 23.58, 26.57},
		{3, 9, 19.47, 20.91}, {4, 9, 26.39, 31.37}, {6, 10, 36.87, 45}, {5, 8, 38.68, 45},
	} {
		got, want := must(ConvergenceLimit(c, MM(r[0]), MM(r[1]))).Value, r[2]
		if c == TopEdge {
			got, want = got/halfTwo, r[3] // 45° a wall stands for any taper
		}
		out = append(out, check{fmt.Sprint("height and width ", r[:2]), got, want})
	}
	return out
}

func minimumChecks() []check {
	var out []check
	for _, r := range []struct {
		base float64
		want [4]float64
	}{
		{8, [4]float64{1.39, 2.21, 2.74, 3.25}}, {10, [4]float64{1.74, 2.76, 3.42, 4.07}}, {11, [4]float64{1.91, 3.03, 3.76, 4.47}},
	} {
		for i, toc := range []float64{10, 16, 20, 24} {
			out = append(out, check{fmt.Sprint(r.base, " mm at ", toc), must(MinimumHeight(HalfWall, MM(r.base), Deg(toc))).Value, r.want[i]})
		}
	}
	return out
}

func resists(height, base, toc float64) float64 {
	if must(ResistanceForm(MM(height), MM(base), Deg(toc))).HalfWall.Verdict == DoesResist {
		return 1
	}
	return 0
}

// woolsey: of heights 3 to 10 mm and tapers of 5, 10 and 15° a wall, only 3 and
// 4 mm with 10 and 15° came off.
func woolsey() []check {
	var out []check
	for _, height := range []float64{3, 4, 6, 8, 10} {
		for _, taper := range []float64{5, 10, 15} {
			stayed := 1.0
			if height < 6 && taper > 5 {
				stayed = 0
			}
			out = append(out, check{fmt.Sprint(height, " mm, ", taper, "° a wall"), resists(height, 11.9, 2*taper), stayed})
		}
	}
	return out
}

func publishedDies() []check {
	return []check{
		{"10 mm, 3.5 mm high, 22°: inadequate", resists(3.5, 10, 22), 0},
		{"10 mm, 3 mm high, 10°: adequate", resists(3, 10, 10), 1},
		{"10 mm, 3 mm high, 20°: inadequate", resists(3, 10, 20), 0},
		{"molar of 8 mm, 2.5 mm high, 20°: no resistance", resists(2.5, 8, 20), 0},
		{"molar of 11 mm, 2.5 mm high, 20°: no resistance", resists(2.5, 11, 20), 0},
	}
}
