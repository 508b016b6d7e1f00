package talk

// calcPhrase is a question for a number with the headline of its answer.
// The values were worked out apart from this program (testdata/published/deviations.txt
// names the source of each calculation's check) or by hand.
type calcPhrase struct{ says, headline string }

var formPhrases = []calcPhrase{
	{"molar prep 3.5 high 9 wide at the margin 7.8 on top, enough?", "Total convergence 19.5° (15.8 to 23.3°); by the published limits the form is inadequate (missed: height)."},
	{"LR6 prep is 4.5 mm tall, 9.5 mm at the margin, 8.2 mm at the top, retentive enough?", "Total convergence 16.4° (13.6 to 19.3°); by the published limits the form is adequate."},
	{"8 / 6.4 / 5.5 (base, top, height), what convergence", "Total convergence 16.6° (14.3 to 18.9°)."},
	{"10 / 4 / 8.6 (base, height, top), what taper", "Total convergence 19.9° (16.7 to 23.2°)."},
	{"what angle is 7 / 6 / 5", "Total convergence 11.4° (8.97 to 14°)."},
	{"base 7 mm, 6 mm on top, 0.5 cm high: TOC", "Total convergence 11.4° (8.97 to 14°)."},
	{"one wall leans in 0.5 mm, the other leans in 0.9, 4 mm high, what convergence", "Total convergence 19.8° (16.6 to 23.1°)."},
	{"10 wide, 8.6 on top, 4 high with a groove, enough?", "Total convergence 19.9° (16.7 to 23.2°); too close to a limit to call the form (total convergence, height to width and half-wall rule)."},
	{"4 mm high 10 wide 22 degrees, does it hold?", "By the published limits the form is inadequate (missed: total convergence); half-wall rule: resists, with 23.6° (22.7 to 24.5°) as the limit of total convergence."},
	{"does a 3 mm high, 10 mm wide stump at 20 degrees in total resist tipping", "By the published limits the form is inadequate (missed: height to width and half-wall rule); half-wall rule: does not resist, with 17.5° (16.7 to 18.2°) as the limit of total convergence."},
	{"premolar 3.2 mm high 7 mm wide 7 degrees per wall, does it hold", "By the published limits the form is adequate; half-wall rule: resists, with 27.2° (25.9 to 28.6°) as the limit of total convergence."},
	{"3 high 9 wide, will it hold?", "By the published limits the form is inadequate (missed: height to width); by the half-wall rule it resists tipping up to 19.5° (18.6 to 20.4°) total convergence."},
	{"how tall must a prep be that is 10 wide with 20 degrees total", "At least 3.42 mm (3.39 to 3.45 mm) high by the half-wall rule; the laxer top-edge rule asks for 1.71 mm (1.69 to 1.73 mm)."},
	{"largest convergence for 4 mm high and 9 mm wide", "At most 26.4° (25.4 to 27.4°) total convergence by the half-wall rule."},
	{"how much of the wall resists, 4 mm high, 10 mm wide, 16 degrees total", "The upper 65.5 % (64.3 to 66.7 %) of the wall resists, from 1.38 mm (1.36 to 1.39 mm) above the margin on; half-wall rule: resists."},
	{"which part of the wall resists, 2 high, 11 wide, 60 degrees total", "No part of the wall resists tipping; half-wall rule: does not resist."},
	{"surface area of a prep 10 wide 8.6 on top 4 high", "177 mm² (171 to 182 mm²) under the crown, of which 119 mm² (115 to 123 mm²) are walls."},
	{"area of the walls for a square stump 9 mm wide 3 mm high 10 degrees per wall", "166 mm² under the crown, of which 103 mm² are walls."},
	{"how many microlitres fit, 10 / 8.6 / 4, 50 micron gap", "8.84 µL (8.56 to 9.11 µL) of cement fills the space (area times film)."},
	{"cement volume 7 wide 5.5 on top 4 high film 0.08 mm", "8.29 µL (7.97 to 8.62 µL) of cement fills the space (area times film)."},
	{"how far does the crown stand up with a 25 µm film at 10 deg total convergence", "The crown stands 287 µm above its seat."},
	{"lift with a 60 µm film and a 40 µm spacer at 8 degrees total", "The crown stands 287 µm above its seat."},
	{"seating error with a 50 micron film, 10 / 8.6 / 4", "The crown stands 290 µm (249 to 348 µm) above its seat."},
}

var lightPhrases = []calcPhrase{
	{"1200 mW for 15 s, how many joules", "18 J/cm² under the tip, where 16 J/cm² is the usual target."},
	{"dose of 1 minute at 1 W/cm²", "60 J/cm² under the tip, where 16 J/cm² is the usual target."},
	{"how many seconds for 16 J with a 300 mW lamp", "53.3 s under the tip, if nothing lies between."},
	{"how long do I need with an 800 mW lamp", "20 s under the tip, if nothing lies between."},
	{"20 s at 1000 mW behind 1.5 mm 4Y?", "Behind 1.5 mm of zirconia 0.635 to 6.02 J/cm² arrives, for 16 J/cm² wanted: too little even in the best case."},
	{"60 s at 1200 mW through 0.5 mm of zirconia, enough?", "Behind 0.5 mm of zirconia 22.8 to 48.3 J/cm² arrives, for 16 J/cm² wanted: enough."},
	{"40 s at 1000 mW under 0.8 mm 5Y", "Behind 0.8 mm of zirconia 6.35 to 21.1 J/cm² arrives, for 16 J/cm² wanted: it may be too little."},
	{"1 mm zirconia, 1000 mW, how many seconds for 16 J/cm2", "Behind 1 mm of zirconia 16 J/cm² takes 35.6 to 160 s."},
	{"how much light gets through 1.5 mm of zirconia", "3.17 to 30.1 % of the light gets through 1.5 mm of zirconia."},
	{"how thick may zirconia be for 60 s at 1000 mW", "16 J/cm² still arrives behind 0.575 to 1.65 mm of zirconia."},
	{"my lamp should give 1200 mW but measures 900", "The lamp gives 75 % of its stated output: not within the allowed 80 to 120 %."},
	{"lamp box says 1000, radiometer shows 1150, within 20 percent?", "The lamp gives 115 % of its stated output: within the allowed 80 to 120 %."},
	{"rim speed of a 1.6 mm diamond at 200,000 rpm", "Speed at the edge 16.8 m/s."},
	{"how fast is the edge of a 1.2 mm bur at 160k rpm", "Speed at the edge 10.1 m/s."},
	{"peripheral speed 1 mm 300 000 rpm", "Speed at the edge 15.7 m/s."},
}

var strengthPhrases = []calcPhrase{
	{"disc test: 1000 N, 1.2 mm thick, support radius 5, piston 0.7, disc radius 7", "Biaxial strength 1085 MPa."},
	{"biaxial: 1000 N, thickness 1.2, support circle 5, piston 0.7, disc radius 7, poisson 0.3", "Biaxial strength 1121 MPa."},
	{"three point bend 300 N, 14 mm span 4 mm wide 1.2 mm thick", "Three-point strength 1094 MPa."},
	{"4-point bending with 800 N, span 16, 4 wide 2 thick", "Four-point strength 600 MPa."},
	{"weibull modulus 10, characteristic strength 1000 MPa, stress 600 MPa", "Share that breaks 0.603 %."},
	{"how much weaker is 0.5 mm than 1 mm", "A crack starts in 0.5 mm at 0.25 times the load of 1 mm, if material and support are the same."},
	{"0.5 mm at 1200 MPa versus 1 mm at 600 MPa, which is stronger", "A crack starts in 0.5 mm at 0.5 times the load of 1 mm, with the strengths given and the same support."},
	{"connector 3 wide 4 high against 4 wide 3 high", "3 × 4 mm (width × height) bears 0.75 times the stress of 4 × 3 mm: the first is better."},
	{"connector 3 x 3 mm or 4 x 4 mm", "3 × 3 mm (width × height) bears 2.37 times the stress of 4 × 4 mm: the second is better."},
	{"4 unit bridge connector 3 x 2 mm, enough?", "3 × 2 mm is 6 mm² as a rectangle: outside the setting."},
	{"3-unit 3Y molar bridge, connector 3 x 3 mm ok?", "3 × 3 mm is 9 mm² as a rectangle: within the setting."},
	{"3Y, molar, is a 3x2 connector enough", "3 × 2 mm is 6 mm² as a rectangle: outside the setting."},
	{"how many newtons to pull a crown off with 90 mm2 of wall, retention force", "Some hundreds of newtons, from 100 to 600 N: an order of magnitude and no prediction."},
	{"how much bite force on a front tooth", "Bite force to design for, front tooth 240 to 340 N; grinding and clenching exceed it."},
	{"what bite force do I design for", "Bite force to design for, molar 600 to 700 N; grinding and clenching exceed it."},
	{"deltaE00 70/2/19 vs 71/2/20", "Colour difference 0.938 ΔE00: visible, and acceptable to half of the observers."},
	{"colour difference between L 50 a 2.6772 b -79.7751 and L 50 a 0 b -82.7485", "Colour difference 2.04 ΔE00: not acceptable to half of the observers."},
	{"ΔE00 of 0.8, can anyone see it", "0.8 ΔE00 is not visible to half of the observers."},
	{"is a delta e of 1.2 visible?", "1.2 ΔE00 is visible, and acceptable to half of the observers; 1.2 ΔEab is not visible to half of the observers."},
	{"dTP00 of 1.5, visible?", "1.5 ΔTP00 is visible, and acceptable to half of the observers."},
	{"translucency parameter: black 70 0 10, white 80 1 18", "The translucency parameter is 8.87 by CIEDE2000 (TP00), 12.85 by the older formula (TPab)."},
}

var unitPhrases = []calcPhrase{
	{"2.8 bar in psi", "2.8 bar is 40.6 psi."},
	{"how many psi is 2 bar", "2 bar is 29 psi."},
	{"psi for 2 bar?", "2 bar is 29 psi."},
	{"250 kPa = ? bar", "250 kPa is 2.5 bar."},
	{"60 psi and 40 psi in bar", "60 psi is 4.14 bar and 40 psi is 2.76 bar."},
	{"convert 900 MPa to GPa", "900 MPa is 0.9 GPa."},
	{"37 C in F", "37 °C is 98.6 °F."},
	{"98.6 °F in C", "98.6 °F is 37 °C."},
	{"0.05 mm in microns", "0.05 mm is 50 µm."},
	{"90 seconds in minutes", "90 s is 1.5 min."},
}

// badPhrases are questions that no number can answer: each gets a sentence that
// says what is wrong, and the mend.
var badPhrases = []calcPhrase{
	{"8 wide at the margin, 9 on top, 4 high, TOC?", "The width on top cannot be 9 mm; allowed is at most the width at the margin, 8 mm. Either the two widths are swapped, or there is an undercut that no crown can pass."},
	{"height -3, width 9, top 8, TOC", "The height cannot be -3 mm; allowed is 0.5 to 15 mm. Measure from the margin to the top, in mm."},
	{"35 high 9 wide 7.8 on top, enough?", "The height cannot be 35 mm; allowed is 0.5 to 15 mm. Measure from the margin to the top, in mm."},
	{"10 wide at the margin, 2 on top, 3 high, angle?", "The total convergence cannot be 106°; allowed is 0 to 90°. Give both opposing walls together; a taper of one wall counts twice."},
	{"4 high and 9 wide at the margin, what convergence do I have", "To work out the total convergence I still need the width on top in mm."},
	{"how tapered is my prep", "To work out the total convergence I still need the height in mm, the width at the margin in mm and the width on top in mm."},
	{"premolar 3.2 mm high 7 mm wide taper 14, does it hold", "The form cannot be called yet (still needed: total convergence); by the half-wall rule it resists tipping up to 27.2° (25.9 to 28.6°) total convergence."},
	{"lift of the crown with a 25 µm film", "To work out the lift of the crown I still need the total convergence in degrees (both opposing walls together)."},
	{"lift with a 25 µm film at 0 degrees total", "The total convergence cannot be 0°; allowed is 1 to 90°. Parallel walls give no finite lift."},
	{"20 s or 40 s at 1000 mW behind 1 mm?", "Exposure time was given more than once (20 s and 40 s). Ask with one of them at a time."},
	{"20 s at 20000 mW how many joules", "The irradiance cannot be 20,000 mW/cm²; allowed is 50 to 10,000 mW/cm². Give the lamp's output in mW/cm²; 1 W/cm² is 1000 mW/cm²."},
	{"-20 s at 1000 mW, dose?", "The exposure time cannot be -20 s; allowed is 0.5 to 1800 s. Give the time in seconds."},
	{"disc test 1000 N 1.2 thick support radius 8 piston 0.7 disc radius 7", "The radius of the support circle cannot be 8 mm; allowed is 0.5 to 7 mm. It cannot be larger than the disc; give radii, not diameters."},
	{"biaxial: 1000 N 1.2 mm thick", "To work out the biaxial strength I still need the radius of the support circle in mm, the radius of the piston in mm and the radius of the disc in mm."},
	{"3 point bending: 20 thick, 16 span, 4 wide, 800 N", "The thickness of the specimen cannot be 20 mm; allowed is 0.1 to 10 mm. Give the thickness in mm."},
	{"connector 3.5x4.2 vs 4x4", "3.5 × 4.2 mm (width × height) bears 1.04 times the stress of 4 × 4 mm: the second is better."},
	{"peripheral speed of a 100 mm bur at 200000 rpm", "The diameter of the instrument cannot be 100 mm; allowed is 0.1 to 30 mm. Give the working diameter in mm."},
	{"colour difference 72 1.5 18 and 70 2", "For two colours I need six numbers, L*, a* and b* of each; 5 were read. Write them apart, for example 72 1.5 18 and 70 2 21."},
	{"delta E between 165 3 20 and 68 2 18", "The L* cannot be 165; allowed is 0 to 100. Give CIELAB coordinates."},
	{"translucency parameter white 60 0 5, black 75 1 15", "The L* over white cannot be 60; allowed is at least L* over black, 75. The two readings may be swapped."},
	{"-2 bar in psi", "A pressure cannot be negative: got -2 bar. Check the number and its unit."},
	{"5000 bar in psi", "5000 bar is 72519 psi."},
	{"2.8 in psi", "Which unit is 2.8 in? Write it behind the number, for example 2.8 bar."},
	{"0.004 in in microns", "Inches are not read here. One inch is 25.4 mm: give 0.004 inches in mm or µm and ask again."},
	{"50000 rpm in psi", "Rpm does not convert to psi: one is a rotation speed, the other a pressure. Check the number and its unit."},
	{"retention force", "To work out the force to pull the crown off I still need the area of the walls in mm²."},
}

// refusedPhrases ask for what is not computed; the headline begins like this.
var refusedPhrases = []calcPhrase{
	{"220 grit in microns", "Not worked out: mesh or grit number to micrometres."},
	{"what is 320 mesh in µm", "Not worked out: mesh or grit number to micrometres."},
	{"red band diamond in microns", "Not worked out: colour band of a diamond to micrometres."},
	{"how much retention do I lose at 20 degrees taper", "Not worked out: retention at a given taper."},
	{"how much light is left 8 mm away from the tip with a 1000 mW lamp", "Not worked out: light at a distance from the tip."},
	{"how many newtons can a 1 mm 3Y crown take", "Not worked out: load at which a crown breaks."},
	{"what shade will a 1 mm 4Y crown have over a dark stump", "Not worked out: colour of a crown over its stump."},
	{"it sets in 5 min at 23 °C, how long at mouth temperature", "Not worked out: setting time at another temperature."},
	{"how long can I look at the curing light", "Not worked out: how long one may look at the curing light."},
	{"how much does a groove add", "Not worked out: resistance with grooves or boxes."},
	{"20 MPa bond strength, is that enough", "Not worked out: clinical hold from a laboratory bond strength."},
}
