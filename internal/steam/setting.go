package steam

// Setting says what to look for in a series of readings.
type Setting struct {
	// Levels are set temperatures in °C, rising, each once. For each the longest
	// unbroken time at or above it is found.
	Levels []float64
	// Below is how far under a level, in K, a reading may lie and still have been at
	// it: half of the last digit shown, and the sensor's error. It widens what a hold
	// may have been at most.
	Below float64
	// Above is how far over a level, in K, a reading must lie to have surely been at
	// it; 0 takes readings as written. It narrows what a hold has been at least.
	Above float64
	// Over are distances above a level in K, rising: for each it is timed how long the
	// hold ran hotter than that.
	Over []float64
	// Apart are distances in K, rising: for each it is timed how long in the hold the
	// saturation temperature of the measured pressure lay further from the measured
	// temperature, on either side. Only where Absolute.
	Apart []float64
	// Scale is the one by which lethality is counted; the zero Scale is F0.
	Scale Scale
	// Absolute says that pressures count from a vacuum, so that steam can be compared.
	Absolute bool
	// Air is the pressure of the air outside in the same count as the readings, in
	// kPa: of gauge pressures 0. NaN or 0 with Absolute where it is not known: then the
	// first pressure read is taken for it if it lies between 60 and 110 kPa (4,200 m up
	// to below the sea; our judgement), else 101.325 kPa.
	Air float64
	// Resolution is the step of the clock, in s, where it is coarser than the readings
	// are apart; else 0.
	Resolution float64
}

// Cycle is what a series of readings did. Times are seconds on the series' own
// clock, temperatures °C of the coldest sensor unless said, pressures kPa in the
// count of the readings.
type Cycle struct {
	Setting  Setting
	Readings int
	// Ignored counts what Add was given and could not take: no number, or before the last.
	Ignored int
	// Air is the pressure taken for that of the air outside, in kPa; NaN where there is no pressure.
	Air float64
	// From and Until are the first and the last reading; Interval is the usual time
	// between two: where the pace changed, the one that held for most of them; 0 where
	// there are too few.
	From, Until, Interval float64
	// Gaps counts the times between readings too long to say what happened; LongestGap is
	// the longest. One is longer than 5 times the usual and than 10 s (our judgement).
	Gaps       int
	LongestGap float64
	// Lowest and Highest temperature of all; Warmest is the highest of any sensor.
	Lowest, Highest, Warmest float64
	// LeastPressure and MostPressure; NaN where there is no pressure.
	LeastPressure, MostPressure float64
	// First is the temperature of the first reading; NaN where none. BegunAway says that
	// the first pressure lay 20 kPa or more from that of the air, from whatever it may
	// count: the cycle was under way.
	First     float64
	BegunAway bool
	// LastTemperature is that of the last reading; NaN where none.
	LastTemperature float64
	// Holds has one for each of Setting.Levels.
	Holds []Hold
	// Pulses are the swings of pressure, the first 32; PulseCount counts all. A swing is
	// a fall of at least 20 kPa and then a rise of at least 20 kPa (our judgement: a pulse
	// of air removal is deeper, noise is less). The exhaust and the venting after a vacuum
	// are one too.
	Pulses     []Pulse
	PulseCount int
	// Lethality is in seconds at the reference temperature of Setting.Scale, over all
	// readings of the coldest sensor; gaps are bridged by a straight line.
	Lethality float64
	// Flat is the longest time over which the coldest sensor showed one and the same
	// value; FlatFrom when it began; FlatPressure how far pressure moved meanwhile, in
	// kPa, NaN where not known. A gap ends it.
	Flat, FlatFrom, FlatPressure float64
	// Jump is the greatest change between two readings that are not a gap apart, in
	// K; JumpAt when, JumpOver the seconds it took.
	Jump, JumpAt, JumpOver float64
}

// Hold is the longest unbroken time at or above a level.
type Hold struct {
	Level   float64 // °C
	Reached bool    // whether any reading lay at or above it, as written
	// OpenStart and OpenEnd say that the first, or the last, reading of the series was
	// not surely below the level: time at it may lie outside the record, of which
	// neither Least nor Most knows.
	OpenStart, OpenEnd bool
	// Leapt says that it begins or ends with a change of 60 K or more within 10 s, which
	// no chamber makes: a plug that lost contact. What the chamber did then is not known.
	Leapt bool
	// Equilibration are the seconds from when the warmest sensor reached the level, or from
	// when the coldest fell below it last, to when the coldest did; 0 with one sensor.
	Equilibration float64
	// From and Until are when the level was crossed, on a straight line between readings.
	From, Until float64
	// Least and Most are the seconds that the hold has lasted at least and at most,
	// given the readings' distance, gaps, the clock's step, and Setting.Above and Below.
	// Least is from the first to the last of readings surely at the level, with no gap
	// between, nor one of the first long times of a slower pace; Most from the last reading
	// surely below it to the next one, and as long as any gap, or as any long time at the
	// end that may be one: in a gap anything may have been. Most may be above 0 where
	// Reached is false. They may be of other runs than From and Until, which are of the one longest
	// as written. What is shorter than the time between two readings may not be seen.
	Least, Most float64
	// Lowest, Highest and Mean temperature in it; Warmest is the highest of any sensor.
	// The ends are of its readings; the mean is over time, from crossing to crossing. All
	// NaN where it was not reached.
	Lowest, Highest, Mean, Warmest float64
	// Spread is the widest distance between sensors at one reading, in K.
	Spread float64
	// MeanPressure, LeastPressure and MostPressure in it; NaN where there is none. The
	// mean is over time, from the first to the last reading in it that has a pressure.
	MeanPressure, LeastPressure, MostPressure float64
	// Apart is the mean of the saturation temperature of the measured pressure less
	// the measured temperature, in K; ApartLeast and ApartMost the ends of it. Above
	// nought: the pressure is higher than steam alone would have (air, or a sensor);
	// below: steam hotter than saturated (superheat, or a sensor). NaN where not known.
	// Taken over the same readings as the mean pressure.
	Apart, ApartLeast, ApartMost float64
	// Over is, for each of Setting.Over, the seconds that the warmest sensor was hotter than Level and that.
	Over []float64
	// Air and Superheat are, for each of Setting.Apart, the seconds that the
	// difference was further above, or further below, nought than that.
	Air, Superheat []float64
	// Pulses counts those that ended before the hold began; the rise that leads into the
	// hold ends the last one.
	Pulses int
	// Lethality within it, in s at the reference.
	Lethality float64
	// Gaps counts those within.
	Gaps int
	// After is what followed it.
	After After
}

// Seconds is how long the hold lasted, crossings interpolated.
func (h *Hold) Seconds() float64 { return h.Until - h.From }

// After is what followed a hold.
type After struct {
	// Vented is when the pressure was first back at that of the air, or below, or,
	// with no pressure, the temperature at 100 °C or below; NaN if never. Up to 5 kPa
	// above what is taken for the air's is back at it: the weather alone moves that so far
	// (our judgement).
	Vented float64
	// Vacuum are the seconds, after that, that the pressure lay at least 20 kPa under the
	// air's; VacuumEnded says that it came back up, so that its end was seen.
	Vacuum      float64
	VacuumEnded bool
	// Rest are the seconds from the end of the hold to the last reading.
	Rest float64
}

// Pulse is one fall and rise of the pressure.
type Pulse struct {
	At           float64 // s, of its lowest point
	Lowest, Peak float64 // kPa: the lowest, and the highest that followed
}
