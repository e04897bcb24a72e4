package size_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/resolve"
	"strake/lang/size"
	"strake/lang/source"
	"strake/lang/syntax"
)

// head is a craft with everything said that a cable depends on.
const head = `craft "Test" {
    rules iso-13297
    cable class 5, plain, 105 degC, free
}
domain low: dc 12 V, 10.5 V to 14.6 V
domain mid: dc 24 V, 21 V to 29.2 V
domain main: dc 48 V, 44 V to 58.4 V
domain mains: ac 230 V, 50 Hz
place cool: 30 degC
place hot: 50 degC, engine
`

// worked sizes a craft of head and lines, in which nothing may be wrong.
func worked(t *testing.T, lines string) *size.Plan {
	t.Helper()
	return sized(t, head+lines)
}

// sized sizes a whole craft of its own.
func sized(t *testing.T, text string) *size.Plan {
	t.Helper()
	return size.Size(resolved(t, text))
}

func resolved(t testing.TB, text string) *circuit.System {
	t.Helper()
	tree, findings := syntax.Parse(source.NewFile("test.strake", text))
	sys, more := resolve.Resolve([]*syntax.File{tree})
	for _, f := range append(findings, more...) {
		require.NotEqual(t, diag.Error, f.Severity, "%s: %s", f.Rule, f.Message)
	}
	return sys
}

// first is the first of a list that is asked for; there has to be one.
func first[T any](t testing.TB, list []T, what string, is func(T) bool) T {
	t.Helper()
	i := slices.IndexFunc(list, is)
	require.GreaterOrEqual(t, i, 0, "no "+what)
	return list[i]
}

func cable(t *testing.T, p *size.Plan, id string) size.Cable {
	t.Helper()
	return first(t, p.Cables, "cable "+id, func(c size.Cable) bool { return c.Of.ID == id })
}

func device(t *testing.T, p *size.Plan, ref string) size.Device {
	t.Helper()
	return first(t, p.Devices, "device "+ref, func(d size.Device) bool { return d.Of.Ref == ref })
}

// A 24 V fridge of 6 A, 8 m one way, held to 3 %: by ISO's formula 2.5 mm² would
// do (2.62 %); by the class 5 table 2.5 mm² has 3.19 % at 20 °C, and 4 mm² is taken.
func TestDropGoverns(t *testing.T) {
	p := worked(t, `battery B1 in mid at cool: agm, 24 V, 100 Ah, resistance 6 mohm
run B1 [link] fuse F1 at cool: 10 A, terminals 105 degC [8 m] load L1 "Fridge" at cool: 6 A, critical, terminals 105 degC
`)
	c := cable(t, p, "F1-L1")
	assert.EqualValues(t, 4, c.Area.Value)
	assert.True(t, c.Chosen)
	assert.Equal(t, "drop", c.GovernedBy)
	assert.EqualValues(t, 3, c.Limit.Value)
	// 4.95 Ω/km · 16 m · 6 A = 0.4752 V at 20 °C; it runs at 30 + 75·(6/45)² = 31.33 °C
	assert.InEpsilon(t, 0.4752*(234.5+30+75.0*36/45/45)/254.5, float64(c.Drop.Value), 1e-9)
	assert.InEpsilon(t, 100*0.0164*6*16/4/24, float64(c.ISOPercent.Value), 1e-9)
	assert.Equal(t, "ok", c.Result)

	stated := worked(t, `battery B1 in mid at cool: agm, 24 V, 100 Ah, resistance 6 mohm
run B1 [link] fuse F1 at cool: 10 A, terminals 105 degC [8 m 2.5 mm2] load L1 "Fridge" at cool: 6 A, critical, terminals 105 degC
`)
	c = cable(t, stated, "F1-L1")
	// 3.19 % at 20 °C; it runs at 30 + 75·(6/35)² = 32.2 °C
	assert.InEpsilon(t, 3.192*(234.5+30+75.0*36/35/35)/254.5, float64(c.CumulativePercent.Value), 5e-3)
	assert.Equal(t, "fails", c.Result)
	assert.Equal(t, "stated", c.GovernedBy)
}

// A 12 V inverter of 2000 W at 0.88 takes 216.45 A at 10.5 V; 1.25 times that is
// 271 A, a 300 A fuse, and 70 mm² (330 A) under it.
func TestInverterAtLowestVoltage(t *testing.T) {
	p := worked(t, `battery B1 in low at cool: agm, 12 V, 300 Ah, resistance 2 mohm
run B1 [link] fuse F1 at cool: class t, terminals 105 degC [2 m] inverter V1 at cool: 2000 W, efficiency 0.88, terminals 105 degC [2 m 3G2.5] socket X1 in mains at cool: 8 A
`)
	c := cable(t, p, "F1-V1")
	assert.InDelta(t, 216.45, float64(c.DesignCurrent.Value), 0.005)
	f := device(t, p, "F1")
	assert.EqualValues(t, 300, f.Rating.Value)
	assert.True(t, f.Chosen)
	assert.EqualValues(t, 70, c.Area.Value)
	assert.EqualValues(t, 330, c.Ampacity.Value)
	assert.Equal(t, "protection", c.GovernedBy)
}

// In an engine space the factor is the lower of the table's and the formula's,
// once: 105 °C at 50 °C has min(0.86, √(55/75) = 0.856).
func TestEngineSpaceOnce(t *testing.T) {
	p := worked(t, `battery B1 in low at cool: agm, 12 V, 300 Ah, resistance 2 mohm
run B1 [link] fuse F1 at cool: 250 A, terminals 105 degC [2 m 70 mm2 through hot] load L1 at cool: 200 A, terminals 105 degC
run B1 [link] fuse F2 at cool: 250 A [2 m 70 mm2 through hot] load L2 at cool: 200 A, terminals 105 degC
run B1 [link] fuse F3 at cool: 250 A, terminals 105 degC [2 m 70 mm2 through hot, 60 degC] load L3 at cool: 200 A, terminals 105 degC
run B1 [link] fuse F4 at cool: 20 A, terminals 105 degC [2 m 6 mm2 in conduit] load L4 at cool: 10 A, terminals 105 degC
run B1 [link] fuse F5 at cool: 20 A, terminals 105 degC [2 m 6 mm2 bundled 5] load L5 at cool: 10 A, terminals 105 degC
`)
	assert.InDelta(t, 330*0.8563, float64(cable(t, p, "F1-L1").Ampacity.Value), 0.05)
	assert.EqualValues(t, 265, cable(t, p, "F2-L2").Ampacity.Value, "one terminal without a stated temperature: the 70 °C column")
	hot := cable(t, p, "F3-L3")
	assert.True(t, hot.Ampacity.Known)
	assert.Zero(t, hot.Ampacity.Value, "60 °C insulation is not allowed there")
	assert.Equal(t, "fails", hot.Result)
	assert.InDelta(t, 42, float64(cable(t, p, "F4-L4").Ampacity.Value), 1e-9)
	assert.InDelta(t, 42, float64(cable(t, p, "F5-L5").Ampacity.Value), 1e-9)
}

// What nobody has said takes the safe default and is listed; unknown and [] give
// nothing.
func TestSilence(t *testing.T) {
	sys := resolved(t, `domain low: dc 12 V
battery B1 in low: agm, 12 V, 100 Ah
run B1 [link] fuse F1: 20 A [2 m 4 mm2] load L1: 10 A
run B1 [link] fuse F2: 20 A [] load L2: 10 A
run B1 [link] fuse F3: 20 A [unknown mm2, 2 m] load L3: 10 A
run B1 [link] fuse F4: 20 A [4 mm2] load L4
run B1 [link] fuse F5: 20 A [about 10 m about 5 mm2] load L5: about 10 A
`)
	p := size.Size(sys)
	c := cable(t, p, "F1-L1")
	assert.InDelta(t, 22*0.6*0.8165, float64(c.Ampacity.Value), 0.01, "60 °C column, 4 to 6 together, 40 °C")
	var texts []string
	for _, a := range p.Assumptions {
		texts = append(texts, a.Text)
		assert.NotEmpty(t, a.Source, a.Text)
		assert.NotEmpty(t, a.On, a.Text)
	}
	all := strings.Join(texts, "\n")
	for _, want := range []string{"60 °C class", "bundled", "40 °C", "lowest voltage", "class 5, tinned"} {
		assert.Contains(t, all, want)
	}
	for _, id := range []string{"F2-L2", "F3-L3"} {
		c := cable(t, p, id)
		assert.False(t, c.Area.Known, id)
		assert.False(t, c.Chosen, id)
		assert.False(t, c.Ampacity.Known, id)
		assert.False(t, c.Cumulative.Known, id)
		assert.Equal(t, "not verified", c.Result, id)
		assert.Contains(t, c.Missing, "size of "+id)
	}
	c = cable(t, p, "F4-L4")
	assert.False(t, c.Drop.Known)
	assert.False(t, c.DesignCurrent.Known)
	assert.Contains(t, c.Missing, "power or current of L4")
	assert.Contains(t, c.Missing, "length of F4-L4")
	c = cable(t, p, "F5-L5")
	assert.InDelta(t, 12, float64(c.DesignCurrent.Value), 1e-9, "about: 20 % more")
	assert.InDelta(t, 4, float64(c.Area.Value), 1e-9, "about: 20 % less")
	assert.False(t, device(t, p, "F1").FaultMax.Known, "the battery's resistance is not stated")
	assert.NotEmpty(t, device(t, p, "F1").Missing)
}

// Drop adds up from the source's terminals to the load, and starts anew behind a
// converter.
func TestCumulative(t *testing.T) {
	p := worked(t, `battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
run B1 [1 m 16 mm2] fuse F1 at cool: 60 A [1 m 16 mm2] bus P1 in main at cool
run P1 [3 m 16 mm2] load L1 at cool: 20 A
run P1 [3 m 6 mm2] fuse F2 at cool: 20 A [1 m 6 mm2] converter C1 at cool: 12 V, 20 A, efficiency 0.9, one way [1 m 6 mm2] bus P2 in low at cool [2 m 6 mm2] load L2 at cool: 15 A
`)
	sum := 0.0
	for _, id := range []string{"B1-F1", "F1-P1", "P1-F2", "F2-C1"} {
		c := cable(t, p, id)
		sum += float64(c.Drop.Value)
		assert.InDelta(t, sum, float64(c.Cumulative.Value), 1e-12, id)
	}
	first := cable(t, p, "C1-P2")
	assert.Equal(t, first.Drop, first.Cumulative)
	assert.InDelta(t, 15, float64(first.DesignCurrent.Value), 1e-9)
	second := cable(t, p, "P2-L2")
	assert.InDelta(t, float64(first.Drop.Value+second.Drop.Value), float64(second.Cumulative.Value), 1e-12)
	// 20 A at its 12 V, 0.9, at 44 V
	assert.InDelta(t, 20*12/0.9/44, float64(cable(t, p, "F2-C1").DesignCurrent.Value), 1e-6)
	assert.InDelta(t, 20+20*12/0.9/44, float64(cable(t, p, "B1-F1").DesignCurrent.Value), 1e-6)
}

// A stated current of a motor caps its power over the lowest voltage.
func TestMotorCurrentCapsPower(t *testing.T) {
	p := worked(t, `battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
run B1 [link] fuse F1 at cool: 250 A [1 m 95 mm2] motor M1 at cool: 8 kW, 170 A
run B1 [link] fuse F2 at cool: 250 A [1 m 95 mm2] motor M2 at cool: 8 kW
`)
	assert.InDelta(t, 170, float64(cable(t, p, "F1-M1").DesignCurrent.Value), 1e-6)
	assert.InDelta(t, 8000.0/44, float64(cable(t, p, "F2-M2").DesignCurrent.Value), 1e-6)
}

// A tie that two banks can feed is sized for its protection; it is guarded at
// both ends or known to be bare at one.
func TestTie(t *testing.T) {
	const banks = `battery BP in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
battery BS in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
run BP [0.1 m 70 mm2] fuse FP at cool: 250 A [1 m 70 mm2] bus PP in main at cool
run BS [0.1 m 70 mm2] fuse FS at cool: 250 A [1 m 70 mm2] bus PS in main at cool
`
	p := worked(t, banks+"run PP [link] fuse FT1 at cool: 200 A [6 m 70 mm2] isolator QT at cool [0.3 m 70 mm2] fuse FT2 at cool: 200 A [link] PS\n")
	c := cable(t, p, "FT1-QT")
	assert.EqualValues(t, 200, c.DesignCurrent.Value)
	assert.Contains(t, c.DesignCase, "protection")
	require.NotNil(t, c.Feeds[0].Device)
	require.NotNil(t, c.Feeds[1].Device)
	assert.Equal(t, "FT1", c.Feeds[0].Device.Ref)
	assert.Equal(t, "FT2", c.Feeds[1].Device.Ref)
	assert.InDelta(t, 0.3, float64(c.Feeds[1].Distance.Value), 1e-9)
	assert.EqualValues(t, 200, device(t, p, "QT").Rating.Value, "what protects it")
	assert.True(t, device(t, p, "QT").Chosen)

	bare := worked(t, banks+"run PP [link] fuse FT1 at cool: 200 A [6 m 70 mm2] isolator QT at cool [0.3 m 70 mm2] PS\n")
	c = cable(t, bare, "FT1-QT")
	require.NotNil(t, c.Feeds[1].Device)
	assert.Equal(t, "FS", c.Feeds[1].Device.Ref, "on that side the nearest is the bank's own")
	assert.EqualValues(t, 250, c.Feeds[1].Rating.Value)
}

// A battery's lead before its fuse is bare; how far its fuse is, is known.
func TestReachOfTheFirstFuse(t *testing.T) {
	p := worked(t, `battery B1 in main at cool: lfp, 51.2 V, 100 Ah, resistance 10 mohm
run B1 [0.3 m 50 mm2] isolator Q1 at cool [0.5 m 50 mm2] fuse F1 at cool: 150 A [2 m 50 mm2] motor M1 at cool: 100 A
`)
	c := cable(t, p, "B1-Q1")
	assert.Nil(t, c.Feeds[0].Device)
	require.Len(t, c.Feeds[0].Ahead, 1)
	assert.Equal(t, "F1", c.Feeds[0].Ahead[0].Ref)
	assert.InDelta(t, 0.8, float64(c.Feeds[0].Reach.Value), 1e-9)
	assert.EqualValues(t, 150, c.ProtectionRating.Value)
	c = cable(t, p, "F1-M1")
	assert.Equal(t, "F1", c.Feeds[0].Device.Ref)
	assert.Empty(t, c.Feeds[1].Sources)
}

// What loads share on the way is sized together for the least copper: every
// choice of stated sizes with less copper fails.
func TestLeastCopperOverACraft(t *testing.T) {
	const text = `battery B1 in low at cool: agm, 12 V, 200 Ah, resistance 3 mohm
run B1 [link] fuse F0 at cool: 60 A, class t, terminals 105 degC [4 m %s] bus P1 in low at cool: 100 A
run P1 [link] fuse F1 at cool: 16 A, class t, terminals 105 degC [5 m %s] load L1 at cool: 12 A, critical, terminals 105 degC
run P1 [link] fuse F2 at cool: 16 A, class t, terminals 105 degC [3 m %s] load L2 at cool: 12 A, critical, terminals 105 degC
`
	lengths := []float64{4, 5, 3}
	ids := []string{"F0-P1", "F1-L1", "F2-L2"}
	free := worked(t, fmt.Sprintf(text, "", "", ""))
	chosen := 0.0
	for i, id := range ids {
		c := cable(t, free, id)
		require.True(t, c.Chosen, id)
		assert.Equal(t, "ok", c.Result, id)
		chosen += float64(c.Area.Value) * lengths[i]
	}
	assert.InDelta(t, 2*chosen, free.Copper.Proposed, 1e-9)
	assert.Equal(t, free.Copper.Proposed, free.Copper.Bound, "of a tree it is the least")
	areas := []float64{1.5, 2.5, 4, 6, 10, 16, 25, 35}
	for _, a := range areas[3:] {
		for _, b := range areas {
			for _, c := range areas {
				if a*4+b*5+c*3 >= chosen-1e-9 {
					break
				}
				p := worked(t, fmt.Sprintf(text, fmt.Sprintf("%g mm2", a), fmt.Sprintf("%g mm2", b), fmt.Sprintf("%g mm2", c)))
				ok := true
				for _, id := range ids {
					ok = ok && cable(t, p, id).Result == "ok"
				}
				assert.False(t, ok, "%g, %g and %g mm² would do", a, b, c)
			}
		}
	}
}

// Two parallel ways, a ring: the sizer comes to an end and keeps the limit.
func TestRing(t *testing.T) {
	p := worked(t, `battery B1 in low at cool: agm, 12 V, 200 Ah, resistance 3 mohm
run B1 [link] fuse F0 at cool: 60 A, class t [1 m] bus P1 in low at cool: 100 A
run P1 [6 m] bus P2 in low at cool: 100 A
run P1 [4 m] bus P3 in low at cool: 100 A
run P2 [3 m] P3
run P2 [link] fuse F1 at cool: 16 A, class t [2 m] load L1 at cool: 12 A, critical
run P3 [link] fuse F2 at cool: 16 A, class t [2 m] load L2 at cool: 12 A, critical
`)
	copper := 0.0
	for _, c := range p.Cables {
		if !c.Of.Link {
			assert.True(t, c.Chosen, c.Of.ID)
			assert.Equal(t, "ok", c.Result, c.Of.ID)
			copper += 2 * float64(c.Area.Value) * float64(c.Parallel) * float64(c.Of.Length.Value)
		}
	}
	assert.InDelta(t, copper, p.Copper.Proposed, 1e-9)
	assert.Positive(t, p.Copper.Bound)
	assert.Less(t, p.Copper.Bound, p.Copper.Proposed, "of a ring it is not proven least")
}

// In a ring the sizes are not the least, but no more than a fifth above it, and what is
// told as the bound is below it: every choice of the three cables was tried.
func TestRingAgainstAllChoices(t *testing.T) {
	const text = `battery B1 in low at cool: agm, 12 V, 200 Ah, resistance 3 mohm
run B1 [link] fuse F0 at cool: 25 A, class t, terminals 105 degC [1 m 16 mm2] bus P1 in low at cool: 100 A
run P1 [6 m %s] bus P2 in low at cool: 100 A
run P1 [4 m %s] bus P3 in low at cool: 100 A
run P2 [3 m %s] P3
run P2 [link] fuse F1 at cool: 16 A, class t [2 m 10 mm2] load L1 at cool: 12 A, critical
run P3 [link] fuse F2 at cool: 16 A, class t [2 m 10 mm2] load L2 at cool: 12 A, critical
`
	ids, lengths := []string{"P1-P2", "P1-P3", "P2-P3"}, []float64{6, 4, 3}
	sound := func(p *size.Plan) bool {
		for _, c := range p.Cables {
			if !c.Of.Link && c.Result != "ok" {
				return false
			}
		}
		return true
	}
	free := worked(t, fmt.Sprintf(text, "", "", ""))
	require.True(t, sound(free))
	chosen := 0.0
	for i, id := range ids {
		chosen += float64(cable(t, free, id).Area.Value) * lengths[i]
	}
	least, areas := chosen, []float64{2.5, 4, 6, 10, 16, 25}
	for _, a := range areas {
		for _, b := range areas {
			for _, c := range areas {
				copper := a*lengths[0] + b*lengths[1] + c*lengths[2]
				if copper < least-1e-9 && sound(worked(t, fmt.Sprintf(text, fmt.Sprintf("%g mm2", a), fmt.Sprintf("%g mm2", b), fmt.Sprintf("%g mm2", c)))) {
					least = copper
				}
			}
		}
	}
	assert.Less(t, chosen, 1.2*least)
	rest := free.Copper.Proposed - 2*chosen // of what is not in the ring
	assert.LessOrEqual(t, free.Copper.Bound-rest, 2*least+1e-9)
}

// A larger device would still be right only as long as the smallest fault opens it:
// 21 V over 30 m of 2.5 mm² send 31.8 A, which a blade fuse of 20 A needs 27 of and one
// of 25 A 33.75.
func TestMostProtectionStillOpens(t *testing.T) {
	c := cable(t, worked(t, `battery B1 in mid at cool: agm, 24 V, 100 Ah, resistance 6 mohm
run B1 [link] fuse F1 at cool: 10 A, class blade, terminals 105 degC [30 m 2.5 mm2] load L1 at cool: 1 A, terminals 105 degC
`), "F1-L1")
	assert.InDelta(t, 31.8, float64(c.FaultMin.Value), 0.1)
	assert.EqualValues(t, 20, c.MostProtection.Value)
}

// What fails says what would do; what holds says how far.
func TestMargins(t *testing.T) {
	const text = `battery B1 in mid at cool: agm, 24 V, 100 Ah, resistance 6 mohm
run B1 [link] fuse F1 at cool: 10 A, class blade, terminals 105 degC [%s] load L1 at cool: 6 A, critical, terminals 105 degC
`
	c := cable(t, worked(t, fmt.Sprintf(text, "8 m 2.5 mm2")), "F1-L1")
	require.Equal(t, "fails", c.Result)
	assert.EqualValues(t, 4, c.Needs.Value)
	assert.Equal(t, 1, c.NeedsParallel)
	held := float64(c.HoldsTo.Value)
	assert.Less(t, held, 8.0)
	assert.EqualValues(t, 35, c.MostProtection.Value, "35 A on 2.5 mm² of 105 °C")
	c = cable(t, worked(t, fmt.Sprintf(text, fmt.Sprintf("%.4f m 2.5 mm2", held-0.001))), "F1-L1")
	assert.Equal(t, "ok", c.Result, "up to that length it holds")
	assert.False(t, c.Needs.Known)
	c = cable(t, worked(t, fmt.Sprintf(text, fmt.Sprintf("%.4f m 2.5 mm2", held+0.001))), "F1-L1")
	assert.Equal(t, "fails", c.Result, "beyond it does not")
}

// A mains cable takes the lower of the boat table and of the reference method:
// 2.5 mm² clipped, PVC, at 40 °C is 27 A · 0.87 (IEC 60364-5-52), where the boat
// table's 70 °C column says 25 A for a terminal of 40 °C.
func TestLowerOfTwoTables(t *testing.T) {
	p := sized(t, `craft "Mains" {
    cable class 5, tinned, 105 degC, free
}
domain mains: ac 230 V, 50 Hz
place warm: 40 degC
run inlet SH1 in mains at warm: 16 A [0.4 m 3G2.5] rcbo R1 at warm: 16 A, 30 mA, 2 pole [3 m 3G2.5] socket X1 at warm: 500 W
run R1.out [3 m 3G2.5 in conduit] socket X2 at warm: 500 W
`)
	c := cable(t, p, "R1-X1")
	assert.InDelta(t, 27*0.87, float64(c.Ampacity.Value), 1e-9)
	assert.Contains(t, c.AmpacityBasis, "method C")
	assert.InDelta(t, 23*0.87, float64(cable(t, p, "R1-X2").Ampacity.Value), 1e-9, "in conduit: method B2, 23 A")
}

// A 12 V windlass of 80 A, 8 m one way, 10 %: 16 mm² carries it and loses 10.9 % by
// the simplified formula of ISO 13297 alone, 13 % by IEC 60228; 25 mm² loses 8.3 %
// at 20 °C and 9.1 % warm.
func TestWindlass(t *testing.T) {
	const text = `battery B1 in low at cool: agm, 12 V, 200 Ah, resistance 4 mohm
run B1 [link] fuse F1 at cool: 100 A, class t, terminals 105 degC [8 m%s] motor W1 at cool: 80 A, terminals 105 degC
`
	c := cable(t, worked(t, fmt.Sprintf(text, "")), "F1-W1")
	assert.EqualValues(t, 25, c.Area.Value)
	assert.Equal(t, "drop", c.GovernedBy)
	assert.InEpsilon(t, 7.00, float64(c.ISOPercent.Value), 5e-3)
	temperature := 30 + 75.0*(80.0/170)*(80.0/170)
	assert.InEpsilon(t, 8.32*(234.5+temperature)/254.5, float64(c.CumulativePercent.Value), 5e-3)
	c = cable(t, worked(t, fmt.Sprintf(text, " 16 mm2")), "F1-W1")
	assert.EqualValues(t, 130, c.Ampacity.Value)
	assert.InEpsilon(t, 10.93, float64(c.ISOPercent.Value), 5e-3)
	assert.Equal(t, "fails", c.Result)
	assert.EqualValues(t, 25, c.Needs.Value)
}
