package size_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/size"
)

// shown sizes one of the examples as it stands.
func shown(t *testing.T, name string) *size.Plan {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "examples", name+".strake"))
	require.NoError(t, err)
	return sized(t, string(text))
}

// What can flow at the bank bars of the examples, by the one convention: highest
// voltage, 0.9 of a battery's resistance, cables out and back at 20 °C by the lower of
// classes 2 and 5 plain (IEC 60228), all ties closed, no contacts, and what limits
// itself added by its limit.
func TestFaultsOfTheExamples(t *testing.T) {
	const r35, r50, r70, r95 = 0.524e-3, 0.386e-3, 0.268e-3, 0.193e-3 // ohm per metre
	pack := (0.9*15e-3 + 2*0.8*r50) / 3
	tie := pack + 2*2*(0.5+0.6)*r95 + 2*(0.3+0.3+6.5)*r70
	links := 0.9 * (3*4e-3 + 2*0.3*r35) // two links of one conductor; 0.9 of the whole string, which is the safe side
	for _, v := range []struct {
		name, node string
		amps       float64
	}{
		// three packs of each hull, the others through the tie; regulator and inverter/charger 35 A each
		{"marrowfen", "PX", 58.4/pack + 58.4/tie + 35 + 35},
		// two strings of 13 mΩ on 1.55 m of 2 parallel 70 mm²; two chargers of 30 A
		{"brackenmole", "PB", 109.5/((0.9*13e-3+2*1.55*r70/2)/2) + 2*30},
		// two packs on 0.9 m of 70 mm²; regulators of 70, 70 and 35 A, a charger of 50 A
		{"sedgehollow", "BX", 29.2/((0.9*8e-3+2*0.9*r70)/2) + 70 + 70 + 35 + 50},
		// three packs in series, a charge socket of 20 A
		{"bodkinet", "SB", 43.8/links + 20},
		// five packs on 0.9 m of 35 mm²; inverter/charger 35 A, regulator 60 A, a motor that gives 1 kW at 44 V
		{"quillbarrow", "BX", 58.4/((0.9*16e-3+2*0.9*r35)/5) + 35 + 60 + 1000.0/44},
	} {
		f := first(t, shown(t, v.name).Faults, "node "+v.node, func(f size.NodeFault) bool { return f.Node == v.node })
		assert.InEpsilon(t, v.amps, float64(f.Max.Value), 1e-4, v.name)
		assert.Less(t, float64(f.Max.Value), 20000.0, "%s: class T breaks 20 kA", v.name)
	}
}

// The arrays of the examples at -10 °C: modules in series · voc · (1 + change · 35 K),
// where all but the smallest are above 60 V and none is above the regulator's 150 V.
func TestColdArraysOfTheExamples(t *testing.T) {
	for _, v := range []struct {
		name, ref string
		volts     float64
	}{
		{"marrowfen", "PV1", 4 * 24.5 * (1 + 0.0029*35)},   // 107.9 V
		{"sedgehollow", "PV1", 2 * 37.5 * (1 + 0.0027*35)}, // 82.1 V
		{"quillbarrow", "PV1", 3 * 37.2 * (1 + 0.0027*35)}, // 122.1 V
	} {
		a := first(t, shown(t, v.name).Arrays, "array "+v.ref, func(a size.Array) bool { return a.Of.Ref == v.ref })
		assert.InEpsilon(t, v.volts, float64(a.Cold.Value), 1e-9, v.name)
	}
}

// Currents and drops of the examples' largest cables, each by itself: tinned class 5
// (IEC 60228) out and back, at 40 + 75·(I/Iz)² °C, Iz that of free 105 °C cable.
func TestDropsOfTheExamples(t *testing.T) {
	for _, v := range []struct {
		name, id                    string
		amps, perKM, metres, holds  float64
		simple, area, nominal, most float64
	}{
		// a pod limited to 220 A, 4.5 m of 95 mm²; by ISO's formula 0.7 %
		{"marrowfen", "KP-MP", 220, 0.210, 4.5, 390, 0.71, 95, 48, 1.1},
		// a pod of 110 A, 2.2 m of 35 mm²
		{"bodkinet", "F2-M1", 110, 0.565, 2.2, 210, 0.63, 35, 36, 0.9},
	} {
		c := cable(t, shown(t, v.name), v.id)
		assert.InEpsilon(t, v.amps, float64(c.DesignCurrent.Value), 1e-6, v.name)
		hot := 40 + 75*(v.amps/v.holds)*(v.amps/v.holds)
		drop := v.perKM / 1000 * 2 * v.metres * (234.5 + hot) / 254.5 * v.amps
		assert.InEpsilon(t, drop, float64(c.Drop.Value), 1e-6, v.name)
		assert.InDelta(t, v.simple, 100*0.0164*v.amps*2*v.metres/v.area/v.nominal, 0.005, v.name)
		assert.Less(t, 100*float64(c.Drop.Value)/v.nominal, v.most, v.name)
	}
	// 3 kVA over 0.92 at the lowest 21 V
	assert.InEpsilon(t, 3000/0.92/21, float64(cable(t, shown(t, "sedgehollow"), "F2-INV1").DesignCurrent.Value), 1e-6)
}
