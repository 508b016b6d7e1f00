package sums

// A Dimension is what a unit measures; only units of one dimension convert.
type Dimension string

// The dimensions of the job. A strength in MPa is a pressure.
const (
	Pressure     Dimension = "pressure"
	Distance     Dimension = "length"
	Duration     Dimension = "time"
	Slope        Dimension = "angle"
	Temperature  Dimension = "temperature"
	Share        Dimension = "share"
	Rotation     Dimension = "rotation speed"
	Dose         Dimension = "light dose"
	Irradiance   Dimension = "irradiance"
	Area         Dimension = "area"
	Volume       Dimension = "volume"
	Force        Dimension = "force"
	Velocity     Dimension = "speed"
	Flow         Dimension = "flow"
	Loss         Dimension = "loss over a length"
	Number       Dimension = "ratio"
	Count        Dimension = "count"
	Colour2000   Dimension = "colour difference, CIEDE2000"
	ColourLab    Dimension = "colour difference, CIELAB"
	Translucent  Dimension = "translucency, CIEDE2000"
	TranslucentL Dimension = "translucency, CIELAB"
)

// A Unit is the symbol of a unit as this program writes it.
type Unit string

// The units that results are given in. [ParseUnit] knows more.
const (
	Bar            Unit = "bar"
	PSI            Unit = "psi"
	MPa            Unit = "MPa"
	KPa            Unit = "kPa"
	Micrometre     Unit = "µm"
	Millimetre     Unit = "mm"
	Centimetre     Unit = "cm"
	Second         Unit = "s"
	Minute         Unit = "min"
	Hour           Unit = "h"
	Degree         Unit = "deg"
	Celsius        Unit = "°C"
	Fahrenheit     Unit = "°F"
	Percent        Unit = "%"
	RPM            Unit = "rpm"
	JoulePerCM2    Unit = "J/cm²"
	MilliwattPerCM Unit = "mW/cm²"
	MM2            Unit = "mm²"
	Microlitre     Unit = "µL"
	Newton         Unit = "N"
	MetrePerSecond Unit = "m/s"
	PerMillimetre  Unit = "per mm"
	Ratio          Unit = "ratio"
	DeltaE00       Unit = "ΔE00"
	DeltaEab       Unit = "ΔEab"
	TP00           Unit = "ΔTP00"
	TPab           Unit = "ΔTPab"
)

// unitRow defines a unit: a value times factor plus offset is the value in the
// base unit of its dimension.
type unitRow struct {
	symbol    Unit
	dimension Dimension
	factor    float64
	offset    float64
	spellings string // further ways to write it, in lower case, without spaces
}

// pascalPerPSI is the factor of NIST SP 811 (2008), appendix B.8, for
// pound-force per square inch, from the exact pound and inch.
const pascalPerPSI = 6894.757293

// units lists every unit. Bare m, a quotation mark and an apostrophe are left
// out: each can mean two things.
var units = []unitRow{
	{Bar, Pressure, 1e5, 0, "bars"},
	{PSI, Pressure, pascalPerPSI, 0, "psig lb/in2 lbs/in2 lbf/in2 lbsin2 poundspersquareinch"},
	{MPa, Pressure, 1e6, 0, "megapascal megapascals n/mm2"},
	{KPa, Pressure, 1e3, 0, "kilopascal kilopascals"},
	{"GPa", Pressure, 1e9, 0, "gigapascal gigapascals"},
	{"atm", Pressure, 101325, 0, "atmosphere atmospheres"},

	{Micrometre, Distance, 1e-6, 0, "um micron microns micrometre micrometres micrometer micrometers mu"},
	{Millimetre, Distance, 1e-3, 0, "millimetre millimetres millimeter millimeters mms"},
	{Centimetre, Distance, 1e-2, 0, "centimetre centimetres centimeter centimeters cms"},
	{"inch", Distance, 25.4e-3, 0, "inches"}, // a quotation mark or "in" can mean something else
	{"nm", Distance, 1e-9, 0, "nanometre nanometres nanometer nanometers"},

	{Second, Duration, 1, 0, "sec secs second seconds"},
	{Minute, Duration, 60, 0, "mins minute minutes"},
	{Hour, Duration, 3600, 0, "hr hrs hour hours"},

	{Degree, Slope, 1, 0, "° degs degree degrees"},
	{Celsius, Temperature, 1, 0, "c degc degreesc degreec celsius degcelsius degreescelsius centigrade"},
	{Fahrenheit, Temperature, 5.0 / 9, -160.0 / 9, "f degf degreesf degreef fahrenheit degfahrenheit degreesfahrenheit"},
	{"K", Temperature, 1, -273.15, "kelvin"},

	{Percent, Share, 1, 0, "percent pct wt% vol%"},
	{RPM, Rotation, 1, 0, "r/min rev/min revs/min turns/min revolutionsperminute"},

	{JoulePerCM2, Dose, 1, 0, "j/cm2 joule/cm2 joules/cm2 jpercm2 jcm2 j/sqcm"},
	{MilliwattPerCM, Irradiance, 1, 0, "mw/cm2 mwpercm2 mwcm2 mw/sqcm milliwatt/cm2 milliwatts/cm2"},
	{"W/cm²", Irradiance, 1000, 0, "w/cm2 watt/cm2 watts/cm2"},

	{MM2, Area, 1, 0, "mm2 sqmm squaremm squaremillimetres squaremillimeters"},
	{"cm²", Area, 100, 0, "cm2 sqcm squarecm squarecentimetres squarecentimeters"},
	{Microlitre, Volume, 1, 0, "ul microlitre microlitres microliter microliters mm³ mm3"},
	{"mL", Volume, 1000, 0, "ml millilitre millilitres milliliter milliliters cc cm³ cm3"},

	{Newton, Force, 1, 0, "newton newtons"},
	{"kgf", Force, 9.80665, 0, "kp kg kilo kilos kilogram kilograms"},
	{MetrePerSecond, Velocity, 1, 0, "metres/s meters/s mpers metrespersecond meterspersecond"},
	{"mL/min", Flow, 1, 0, "ml/min mlpermin mlperminute mlaminute mlamin mlofwaterperminute mlofwateraminute mlwaterperminute mlwateraminute cc/min"},
	{PerMillimetre, Loss, 1, 0, "permm 1/mm"},

	{Ratio, Number, 1, 0, ""},
	{"units", Count, 1, 0, "unit"},
	{DeltaE00, Colour2000, 1, 0, "de00 deltae00 de2000 ciede2000"},
	{DeltaEab, ColourLab, 1, 0, "deab deltaeab de*ab δe*ab"},
	{TP00, Translucent, 1, 0, "tp00 dtp00"},
	{TPab, TranslucentL, 1, 0, "tpab dtpab"},
}

// row finds the definition of a unit.
func (u Unit) row() (unitRow, bool) {
	for _, r := range units {
		if r.symbol == u {
			return r, true
		}
	}
	return unitRow{}, false
}

// Dimension tells what the unit measures; it is empty for an unknown unit.
func (u Unit) Dimension() Dimension {
	r, _ := u.row()
	return r.dimension
}
