package resolve

import (
	"time"

	"strake/lang/circuit"
	"strake/lang/quantity"
)

// Properties that several kinds share. One property grammar serves all kinds.
var (
	volts   = property("voltage", "{V}", "rated voltage", func(f *circuit.Facts, m match) { f.Voltage = number[quantity.Volt](m, 0) })
	amps    = property("rating", "{A}", "rated current", func(f *circuit.Facts, m match) { f.Current = number[quantity.Ampere](m, 0) })
	watts   = property("power", "{W}", "rated power", func(f *circuit.Facts, m match) { f.Power = number[quantity.Watt](m, 0) })
	va      = property("apparent power", "{VA}", "rated apparent power", func(f *circuit.Facts, m match) { f.Apparent = number[quantity.VoltAmpere](m, 0) })
	inAmps  = property("input current", "input {A}", "current of its input", func(f *circuit.Facts, m match) { f.Input = number[quantity.Ampere](m, 0) })
	inVolts = property("input voltage", "input {V}", "voltage of its input", func(f *circuit.Facts, m match) { f.InputVolt = number[quantity.Volt](m, 0) })

	outVolts = as(volts, "rated voltage of its output")
	outAmps  = as(amps, "rated current of its output")
	outWatts = as(watts, "rated power of its output")

	poles      = property("poles", "{count} pole", "its poles: `2 pole` on a fuse is one in each", func(f *circuit.Facts, m match) { f.Poles = m.count(0) })
	inNegative = property("in negative", "in negative", "a one-pole device stands in the negative", func(f *circuit.Facts, _ match) { f.InNegative = true })
	terminals  = property("terminals", "terminals {degC}", "temperature that its terminals allow: cables are held to that column of their table, to 70 °C (American 75 °C) where nothing is said", func(f *circuit.Facts, m match) { f.Terminals = number[quantity.Celsius](m, 0) })
	shortC     = property("short-circuit", "short-circuit {A}", "short-circuit current that its maker or supplier declares", func(f *circuit.Facts, m match) { f.ShortCircuit = number[quantity.Ampere](m, 0) })

	usualOff     = property("off", "off", "usually open, or switched off", func(f *circuit.Facts, _ match) { f.UsualOff, f.UsualOn = true, false }).or("usual position")
	usualOn      = property("on", "on", "usually closed, or switched on", func(f *circuit.Facts, _ match) { f.UsualOn, f.UsualOff = true, false }).or("usual position")
	loadBreak    = property("load-break", "load-break", "may be opened under load at the voltage of its rating", func(f *circuit.Facts, _ match) { f.LoadBreak = circuit.Yes }).or("load-break")
	noLoadBreak  = property("no load-break", "no load-break", "must not be opened under load", func(f *circuit.Facts, _ match) { f.LoadBreak = circuit.No }).or("load-break")
	polarised    = property("polarised", "polarised", "breaks current in one direction alone", func(f *circuit.Facts, _ match) { f.Polarised = circuit.Yes }).or("polarity")
	unpolarised  = property("unpolarised", "unpolarised", "breaks current in both directions", func(f *circuit.Facts, _ match) { f.Polarised = circuit.No }).or("polarity")
	makeFirst    = property("make before break", "make before break", "joins two positions for a moment", func(f *circuit.Facts, _ match) { f.MakeFirst = circuit.Yes }).or("overlap")
	breakFirst   = property("break before make", "break before make", "never joins two positions", func(f *circuit.Facts, _ match) { f.MakeFirst = circuit.No }).or("overlap")
	coilVolts    = property("coil", "coil {V}", "voltage of its coil", func(f *circuit.Facts, m match) { f.Coil = number[quantity.Volt](m, 0) })
	coilAmps     = property("coil current", "coil {A}", "current that its coil takes", func(f *circuit.Facts, m match) { f.CoilAmps = number[quantity.Ampere](m, 0) })
	precharge    = property("precharge", "precharge", "charges capacitors through a resistor before it closes", func(f *circuit.Facts, _ match) { f.Precharge = true })
	breaks       = property("breaks", "breaks {A}", "breaking capacity at the voltage of the place", func(f *circuit.Facts, m match) { f.Breaks = number[quantity.Ampere](m, 0) })
	letThrough   = property("let-through", "let-through {A2s}", "most energy that it lets through at the fault current of the place (I2t)", func(f *circuit.Facts, m match) { f.LetThrough = number[quantity.AmpereSquaredSecond](m, 0) })
	curve        = property("curve", "curve {b|c|d}", "magnetic trip curve", func(f *circuit.Facts, m match) { f.Curve = m.words[0] })
	residualType = property("type", "type {ac|a|f|b}", "kind of residual current that it sees", func(f *circuit.Facts, m match) { f.RCDType = m.words[0] })
	residual     = property("residual current", "{mA}", "residual current at which it opens; write it in mA", func(f *circuit.Facts, m match) { f.Trip = number[quantity.Ampere](m, 0) })

	idle       = property("idle", "idle {W}", "what it takes of its input with nothing on its output", func(f *circuit.Facts, m match) { f.Idle = number[quantity.Watt](m, 0) })
	efficiency = property("efficiency", "efficiency {fraction}", "output over input", func(f *circuit.Facts, m match) { f.Efficiency = number[quantity.Number](m, 0) })
	isolated   = property("isolated", "isolated", "its input and output share no conductor", func(f *circuit.Facts, _ match) { f.Isolated = true })
	oneWay     = property("one way", "one way", "never gives back to its input", func(f *circuit.Facts, _ match) { f.OneWay, f.BothWays = true, false }).or("ways")
	bothWays   = property("both ways", "both ways", "passes power in both directions", func(f *circuit.Facts, _ match) { f.BothWays, f.OneWay = true, false }).or("ways")
	pf         = property("power factor", "pf {fraction}", "power factor", func(f *circuit.Facts, m match) { f.PowerFactor = number[quantity.Number](m, 0) })

	neutralEarthed   = property("neutral earthed", "neutral earthed", "its neutral is bonded to earth at this source", func(f *circuit.Facts, _ match) { neutral(f, true, false, false) }).or("neutral")
	neutralInverting = property("neutral earthed when inverting", "neutral earthed when inverting", "a relay bonds its neutral while it inverts", func(f *circuit.Facts, _ match) { neutral(f, false, true, false) }).or("neutral")
	neutralFloating  = property("neutral floating", "neutral floating", "its neutral is bonded nowhere", func(f *circuit.Facts, _ match) { neutral(f, false, false, true) }).or("neutral")

	charge    = property("charge", "charge {A}", "highest charging current", func(f *circuit.Facts, m match) { f.Charge = number[quantity.Ampere](m, 0) })
	discharge = property("discharge", "discharge {A}", "highest lasting discharge current", func(f *circuit.Facts, m match) { f.Discharge = number[quantity.Ampere](m, 0) })

	peakAmps      = property("peak", "peak {A}", "highest current for a short time", func(f *circuit.Facts, m match) { f.Peak = number[quantity.Ampere](m, 0) }).or("peak")
	peakWatts     = property("peak power", "peak {W}", "highest power for a short time", func(f *circuit.Facts, m match) { f.PeakPower = number[quantity.Watt](m, 0) }).or("peak")
	dutyAmps      = property("duty", "{A} for {s}", "a current and how long it lasts", duty)
	dutyAmpsEvery = property("duty with its pause", "{A} for {s} every {s}", "a current, how long it lasts and how often it comes", duty).or("duty")
	dutyWatts     = property("duty power", "{W} for {s}", "a power and how long it lasts", dutyPower).or("duty")
	dutyWattEvery = property("duty power with its pause", "{W} for {s} every {s}", "a power, how long it lasts and how often it comes", dutyPower).or("duty")
	startAmps     = property("start", "start {A}", "current while it starts", func(f *circuit.Facts, m match) { f.Start = number[quantity.Ampere](m, 0) })
	hours         = property("hours a day", "{h/day}", "how long it runs in a day", func(f *circuit.Facts, m match) { f.HoursPerDay = number[quantity.Second](m, 0) })
	regenerates   = property("regenerates", "regenerates {W}", "power that it can give back", func(f *circuit.Facts, m match) { f.Regenerates = number[quantity.Watt](m, 0) })
	critical      = property("critical", "critical", "must work when a source is lost, and takes the 3 % limit of drop", func(f *circuit.Facts, _ match) { f.Critical = true })
	mustBeLive    = property("must be live", "must be live", "must stay live with the isolators open", func(f *circuit.Facts, _ match) { f.MustBeLive = true })
	onHull        = property("hull", "hull", "is a point of the metal hull", func(f *circuit.Facts, _ match) { f.OnHull = true })
	bilge         = property("bilge", "bilge", "pumps the bilge", func(f *circuit.Facts, _ match) { f.Bilge = true })
	navigation    = property("navigation", "navigation", "a navigation light", func(f *circuit.Facts, _ match) { f.Navigation = true })
	blower        = property("blower", "blower", "clears a space of vapour", func(f *circuit.Facts, _ match) { f.Blower = true })
)

// switching is what every hand-operated or driven contact takes.
var switching = list(as(amps, "current that it carries"), as(volts, "voltage that it is rated for"), poles,
	inNegative, usualOff, usualOn, loadBreak, noLoadBreak, polarised, unpolarised, terminals)

// consuming is what every load takes.
var consuming = list(watts, amps, volts, va, pf, dutyAmpsEvery, dutyAmps, dutyWattEvery, dutyWatts, peakAmps, peakWatts,
	startAmps, hours, critical, mustBeLive, terminals)

// neutrals are the facts of an AC source's neutral.
var neutrals = list(neutralInverting, neutralEarthed, neutralFloating)

// as is a property under another help.
func as(p Property, help string) Property {
	p.Help = help
	return p
}

func neutral(f *circuit.Facts, earthed, inverting, floating bool) {
	f.NeutralEarthed, f.NeutralWhenInverting, f.NeutralFloating = earthed, inverting, floating
}

func duty(f *circuit.Facts, m match) {
	f.Peak = number[quantity.Ampere](m, 0)
	f.PeakFor, f.PeakEvery = lasting(m, 1), lasting(m, 2)
}

func dutyPower(f *circuit.Facts, m match) {
	f.PeakPower = number[quantity.Watt](m, 0)
	f.PeakFor, f.PeakEvery = lasting(m, 1), lasting(m, 2)
}

func lasting(m match, i int) time.Duration {
	return time.Duration(float64(number[quantity.Second](m, i).Value) * float64(time.Second))
}
