package quantity

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestQuantitiesAsPrinted(t *testing.T) {
	for _, c := range []struct {
		value fmt.Stringer
		want  string
	}{
		{Volt(58.4), "58.4 V"}, {Volt(109.5), "109.5 V"}, {Volt(0.614), "0.61 V"}, {Volt(0.0035), "3.5 mV"}, {Volt(0), "0 V"},
		{Ampere(0.035), "35 mA"}, {Ampere(1.5), "1.5 A"}, {Ampere(205), "205 A"}, {Ampere(999.96), "1 kA"},
		{Ampere(1250), "1.25 kA"}, {Ampere(18740), "18.7 kA"}, {Ampere(-3), "-3 A"}, {Ampere(0), "0 A"},
		{Watt(48), "48 W"}, {Watt(12.5), "12.5 W"}, {Watt(999.7), "1 kW"}, {Watt(3600), "3.6 kW"}, {Watt(0), "0 W"},
		{VoltAmpere(3000), "3 kVA"}, {VoltAmpere(850), "850 VA"},
		{Ohm(0.014), "14 mΩ"}, {Ohm(0.0011), "1.1 mΩ"}, {Ohm(100), "100 Ω"}, {Ohm(0), "0 Ω"},
		{Metre(0.35), "0.35 m"}, {Metre(4.2), "4.2 m"}, {SquareMM(50), "50 mm²"}, {SquareMM(2.5), "2.5 mm²"},
		{Celsius(-10), "-10 °C"}, {Kelvin(12.34), "12.3 K"}, {Hertz(50), "50 Hz"},
		{AmpereHour(75), "75 Ah"}, {AmpereSquaredSecond(42000), "42 kA²s"}, {AmpereSquaredSecond(640), "640 A²s"}, {WattHour(3840), "3.84 kWh"},
		{Second(0.2), "0.2 s"}, {Second(45), "45 s"}, {Second(180), "3 min"}, {Second(5400), "1.5 h"}, {Second(0), "0 s"},
		{Percent(12.5), "12.5 %"}, {Percent(0.6), "0.6 %"}, {Percent(0.04), "0.04 %"},
		{PerCentK(-0.27), "-0.27 %/K"}, {VoltPerK(-0.1), "-100 mV/K"}, {VoltPerK(0), "0 V/K"},
		{Number(0.94), "0.94"}, {Number(3), "3"}, {Number(2.3455), "2.346"},
		{Ampere(math.NaN()), "–"}, {Ampere(math.Inf(1)), "–"}, {Volt(-0.00000001), "0 mV"},
		{Opt[Volt]{}, "–"}, {Some(Metre(4.2)), "4.2 m"},
	} {
		assert.Equal(t, c.want, c.value.String())
	}
}

// What is printed is never further off than the rounding that its scale allows.
func TestPrintedCurrentReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(0.001, 50e3).Draw(t, "amps")
		var number, symbol string
		_, err := fmt.Sscan(Ampere(v).String(), &number, &symbol)
		assert.NoError(t, err)
		u, ok := FindUnit(symbol)
		assert.True(t, ok)
		back, ok := u.Value(number)
		assert.True(t, ok)
		assert.InEpsilon(t, v, back, 0.5, "%g A is printed %s %s", v, number, symbol)
		if v >= 1 {
			assert.InEpsilon(t, v, back, 0.0051)
		}
	})
}
