package trace

import (
	"strings"

	"footing/internal/quantity"
)

// words are what trade English calls the columns of a data logger.
type words map[string]bool

func wordList(s string) words {
	w := words{}
	for _, f := range strings.Fields(s) {
		w[f] = true
	}
	return w
}

var (
	timeWords     = wordList("time timestamp datetime clock elapsed ms msec msecs millisecond milliseconds seconds second sec secs minutes minute mins duration stopwatch hh:mm:ss h:mm:ss hh:mm h:mm mm:ss m:ss")
	elapsedWords  = wordList("elapsed seconds second sec secs minutes minute mins min duration stopwatch relative run cycle process mm:ss m:ss min:sec min:s")
	clockWords    = wordList("timestamp datetime clock local day")
	notTheTime    = wordList("hold holding remaining left set setpoint exposure sterilization sterilisation sterilizing sterilising drying phase step stage to at end zone f0 total target plateau dwell lag")
	minuteWords   = wordList("mm:ss m:ss mmm:ss min:sec min:s")
	hourWords     = wordList("hh:mm h:mm h:min hr:min")
	milliWords    = wordList("ms msec msecs millisecond milliseconds")
	wholeWords    = wordList("hh:mm:ss h:mm:ss")
	dateWords     = wordList("date datum day")
	phaseWords    = wordList("phase step stage state segment")
	degreeWords   = wordList("temp temps temperature temperatures tmp thermocouple tc t tt te")
	sensorWords   = wordList("sensor probe pt100 pt1000")
	placeWords    = wordList("channel ch drain chamber load input")
	pressureWords = wordList("pressure press pres p pt manometer")
	changeWords   = wordList("delta δt dt difference diff deviation rate error tolerance alarm limit corrected correction offset")
	gaugeWords    = wordList("gauge gage")
	absoluteWords = wordList("absolute abs")
)

// elsewhere names what is no place in the chamber, for a temperature or a pressure.
var elsewhere = func() map[string]string {
	m := map[string]string{}
	for reason, list := range map[string]string{
		"jacket": "jacket mantle", "steam generator": "generator boiler steamgenerator", "heater": "heater heating element band",
		"set point": "set setpoint setpt setvalue sp sv target setting desired nominal", "air of the room": "ambient room outside air atmospheric barometric atmosphere barometer atm",
		"supply": "supply feed mains inlet water tank condenser cooling pump", "computed, not measured": "theoretical calculated computed saturation saturated sat tsat psat theor calc",
	} {
		for _, w := range strings.Fields(list) {
			m[w] = reason
		}
	}
	return m
}()

// headerKeys are what lines before the table are called, folded, without marks at their end.
var headerKeys = func() map[string]fact {
	m := map[string]fact{}
	for f, list := range map[fact]string{
		factSterilizer: "sterilizer steriliser autoclave device machine equipment unitid sterilizerid steriliserid autoclaveid deviceid machineid equipmentid " +
			"sterilizerno steriliserno autoclaveno deviceno machineno sterilizername autoclavename devicename machinename",
		factCounter: "counter cycleno cyclenumber cyclecounter cyclecount cyclenr cycleid cycle# loadno loadnumber loadnr loadid batchno batchnumber " +
			"runno runnumber cyclenum loadnum",
		factCycle:    "cycle load batch run",
		factProgram:  "program programme cycletype cyclename cycleprogram cycleprogramme programname programmename selectedprogram",
		factDate:     "date startdate cycledate dateofcycle dateofstart day rundate",
		factStart:    "start starttime started cyclestart startofcycle datetime date/time dateandtime startdatetime startdate/time startdateandtime cyclestarttime begin begun time timeofstart startedat starttimestamp",
		factDegrees:  "temperatureunit temperatureunits tempunit tempunits unitoftemperature",
		factPressure: "pressureunit pressureunits unitofpressure",
	} {
		for _, k := range strings.Fields(list) {
			m[k] = f
		}
	}
	return m
}()

// unitStarts are the letters with which units begin.
var unitStarts = map[quantity.Dimension]string{quantity.Temperature: "cfkdo", quantity.Pressure: "pkbmhla", quantity.Span: "smhdwy"}

// unitIn reads a unit of a dimension in spellings that quantity does not have: a
// degree sign behind its letter, or one that an export has lost.
func unitIn(s string, d quantity.Dimension) (quantity.Unit, quantity.Reference, bool) {
	if d == quantity.Temperature {
		switch strings.ToLower(s) {
		case "c°", "?c", "\ufffdc", "oc", "â°c":
			s = "°C"
		case "f°", "?f", "\ufffdf", "of", "â°f":
			s = "°F"
		}
	}
	if s == "" {
		return 0, 0, false
	}
	if c := s[0] | 0x20; c < 0x80 && c >= 'a' && !strings.ContainsRune(unitStarts[d], rune(c)) {
		return 0, 0, false // most words are none, and this is the quick way to tell
	}
	u, r, err := quantity.ParseUnit(s, d)
	return u, r, err == nil
}
