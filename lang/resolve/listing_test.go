package resolve

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/circuit"
)

var update = flag.Bool("update", false, "write the listings anew")

// listing prints a system so that a person can review it.
func listing(sys *circuit.System) string {
	var b strings.Builder
	for _, it := range sys.Items {
		fmt.Fprintf(&b, "%-12s %-17s", it.Ref, it.Kind)
		if it.Domain != nil {
			fmt.Fprintf(&b, " in %s", it.Domain.Name)
		}
		if it.Place != nil {
			fmt.Fprintf(&b, " at %s", it.Place.Name)
		}
		if it.Status != circuit.Fitted {
			fmt.Fprintf(&b, " %s", it.Status)
		}
		if it.MemberOf != nil {
			fmt.Fprintf(&b, " of %s", it.MemberOf.Ref)
		}
		for _, p := range it.Packs {
			fmt.Fprintf(&b, " +%s", p.Ref)
		}
		if len(it.Ports) > 1 {
			for _, p := range it.Ports {
				fmt.Fprintf(&b, " .%s=%s", p.Name, domainName(p.Domain))
			}
		}
		fmt.Fprintln(&b)
	}
	for _, set := range [][]*circuit.Cable{sys.Cables, sys.Bonds, sys.Signals} {
		for _, c := range set {
			fmt.Fprintf(&b, "%-6s %-12s %s -> %s in %s", c.Verb, c.ID, end(c.From), end(c.To), domainName(c.Domain))
			switch {
			case c.Link:
				b.WriteString(" link")
			case c.Blank:
				b.WriteString(" nothing known")
			default:
				fmt.Fprintf(&b, " %v %v", c.Length.Opt(), c.Area.Opt())
			}
			if c.Status != circuit.Fitted {
				fmt.Fprintf(&b, " %s", c.Status)
			}
			fmt.Fprintln(&b)
		}
	}
	for _, a := range sys.Assumptions {
		fmt.Fprintf(&b, "assumed %s: %s\n", a.On, a.Text)
	}
	return b.String()
}

func domainName(d *circuit.Domain) string {
	if d == nil {
		return "-"
	}
	return d.Name
}

func end(e circuit.End) string {
	switch {
	case e.Item == nil:
		return endName(e)
	case e.Contact > 0:
		return fmt.Sprintf("%s.%s contact %d", e.Item.Ref, e.Port, e.Contact)
	case e.Port != "":
		return e.Item.Ref + "." + e.Port
	case e.Pole != "":
		return e.Item.Ref + "." + string(e.Pole)
	}
	return e.Item.Ref
}

func TestListingOfAWholeCraft(t *testing.T) {
	got := listing(clean(t, readCraft(t)))
	golden := filepath.Join("testdata", "pintlewick.listing")
	if *update {
		require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

// What a text makes of the circuit, one trait at a time: lines that the listing holds.
func TestTraits(t *testing.T) {
	house := "domain house: dc 12 V, 10.5 V to 14.6 V\n"
	drive := "domain drive: dc 48 V, 44 V to 58.4 V\n"
	for _, c := range []struct{ name, text, lines string }{
		{"ranges are walked in step",
			house + "battery B1..B2 in house\nrun B1..B2 [1 m] fuse F1..F2 [2 m] stud X1..X2",
			"run    B1-F1        B1 -> F1.in in house 1 m –\nrun    F2-X2        F2.out -> X2 in house 2 m –"},
		{"a range gathers on one thing and spreads from it",
			house + "battery B1..B2 in house\nbus PB\nrun B1..B2 [1 m] PB [2 m] lamp L1..L2",
			"run    B2-PB        B2 -> PB in house 1 m –\nrun    PB-L2        PB -> L2 in house 2 m –"},
		{"packs that gather on a bus are a bank",
			house + "battery B1..B2 in house\nrun B1..B2 [1 m] fuse F1..F2 [1 m] bus PB [1 m] fuse F3 [1 m] bus PC",
			"PB           bus               in house +B1 +B2\nPC           bus               in house"},
		{"banks nest, and stand in a domain for their members",
			house + "battery B1..B4\nbank S1 is B1..B2 in series [link]\nbank S2 is B3..B4 in series [link]\nbank HB in house is S1..S2 in parallel []",
			"B1           battery           of S1\nHB           bank              in house\nS1           bank              in house of HB\nrun    S1-S2        S1 -> S2 in house nothing known"},
		{"a run passes a one-ended thing on its terminal",
			house + "battery B1 in house\nrun B1 [1 m] stud X1 [1 m] lamp L1",
			"run    B1-X1        B1 -> X1 in house 1 m –\nrun    X1-L1        X1 -> L1 in house 1 m –"},
		{"a run from a way uses it, and the others are spare",
			house + "board DB1 in house {\n    ways 1..3 is fuse: class blade\n}\nrun DB1.2 [1 m] lamp L1",
			"run    DB1.2        DB1.2.out -> L1 in house 1 m –"},
		{"a way lands on a thing",
			house + "battery B2 in house\nboard DB1 in house {\n    ways 1..3 is fuse: class blade\n    way 1 5 A \"Charger\" [2 m] charger CH1 [1 m] B2\n}",
			"CH1          charger           .in=house .out=house\nrun    CH1-B2       CH1.out -> B2 in house 1 m –\nrun    DB1.1        DB1.1.out -> CH1.in in house 2 m –"},
		{"a way without a power takes its rating",
			house + "board DB1 in house {\n    ways 1..3 is fuse: class blade\n    way 1 5 A \"Plotter\" [2 m]\n}",
			"DB1.1.load   load              in house\nassumed DB1.1: its load takes the way's rating, 5 A, as no power is stated"},
		{"ways in a range have a cable each",
			house + "board DB1 in house {\n    ways 1..3 is fuse: class blade\n    way 1..2 5 A \"Lamps\" lamp L1..L2: 5 W [2 m]\n}",
			"run    DB1.1        DB1.1.out -> L1 in house 2 m –\nrun    DB1.2        DB1.2.out -> L2 in house 2 m –"},
		{"a board may leave open what protects its ways",
			house + "board DB1 in house {\n    way 1 \"Lamp\" 5 W [2 m]\n}",
			"run    DB1.1        DB1 -> DB1.1.load in house 2 m –"},
		{"a cable takes the least finished status of its ends",
			house + "bus PB in house\nowner lamp L1\nrun PB [1 m] L1\nprepared run PB [1 m] fuse F1 [2 m] capped at bow",
			"L1           lamp              in house owner\nrun    F1-capped    F1.out -> capped in house 2 m – prepared\nrun    PB-L1        PB -> L1 in house 1 m – owner"},
		{"each run through a stop takes a contact",
			house + "bus PB in house\nstop S1\nrun PB [1 m] S1 [1 m] lamp L1\nrun PB [W1: 1 m] S1 [1 m] lamp L2",
			"run    S1-L1        S1.out -> L1 in house 1 m –\nrun    S1-L2        S1.out contact 1 -> L2 in house 1 m –"},
		{"two domains that meet leave one cable open",
			house + drive + "bus PB in house\nbus PC in drive\nrun PB [1 m] isolator Q1 [2 m] fuse F1 [3 m] PC",
			"run    Q1-F1        Q1.out -> F1.in in - 2 m –"},
		{"a domain stops at what converts",
			house + drive + "bus PB in drive\nbus PC in house\nrun PB [1 m] converter CV1 [2 m] PC",
			"CV1          converter         .in=drive .out=house"},
		{"a thing described in place stands where the one before stands, up to 1 m",
			house + "bus PB in house at locker\nrun PB [link] fuse F1 [1 m] isolator Q1 [1.1 m] lamp L1",
			"F1           fuse              in house at locker .in=house .out=house\nL1           lamp              in house\nQ1           isolator          in house at locker .in=house .out=house"},
		{"a pump with two inputs",
			house + "bus PB in house\npump P1: 5 A, bilge\nrun PB [1 m] float-switch FS1 [1 m] P1.auto\nrun PB [2 m] switch S1 [1 m] P1.manual",
			"P1           pump              in house .auto=house .manual=house"},
		{"an inverter-charger with two outputs",
			"domain mains: ac 230 V\nbus AB in mains\ninverter-charger INV1: 3 kVA\nrun INV1.out1 [1 m] AB\nrun INV1.in [W1: 2 m] AB",
			"INV1         inverter-charger  .in=mains .dc=- .out1=mains"},
		{"poles and the case",
			house + "battery B1 in house\nbus PB in house\nearth E1\nbond B1.negative [1 m 16 mm2] E1\nbond PB [1 m 16 mm2] E1",
			"bond   B1-E1        B1.negative -> E1 in - 1 m 16 mm²\nbond   PB-E1        PB -> E1 in - 1 m 16 mm²"},
		{"untraced and removed",
			house + "bus PB in house\nremoved run PB [] untraced",
			"run    PB-untraced  PB -> untraced in house nothing known removed"},
		{"a range before a port, and a range of ways",
			house + "contactor K1..K2: coil 12 V\nboard DB1 in house {\n    ways 1..6 is fuse: class blade\n}\nrun DB1.3..4 [1 m] K1..K2.coil",
			"run    DB1.3        DB1.3.out -> K1.coil in house 1 m –\nrun    DB1.4        DB1.4.out -> K2.coil in house 1 m –\nK1           contactor         .in=- .out=- .coil=house"},
		{"a run may end on a way",
			house + "lamp L1\nboard DB1 in house {\n    ways 1..6 is fuse: class blade\n}\nrun L1 [1 m] DB1.3",
			"run    DB1.3        L1 -> DB1.3.out in house 1 m –"},
		{"a signal needs no side and may act",
			"relay K1: coil 12 V\nbms BM1\nsignal BM1 [2 m] opens K1",
			"signal BM1-K1       BM1 -> K1 in - 2 m –"},
		{"an order of statements that names things before they are described",
			house + "run B1 [1 m] fuse F1 [2 m] Q1 [1 m] L1\nisolator Q1\nlamp L1\nbattery B1 in house",
			"run    F1-Q1        F1.out -> Q1.in in house 2 m –"},
		{"leading zeros are kept",
			house + "battery B09..B11 in house",
			"B09          battery           in house\nB10          battery           in house"},
	} {
		t.Run(c.name, func(t *testing.T) {
			sys, findings := resolveText(c.text + "\n")
			for _, f := range findings {
				require.Equal(t, "name-not-used", f.Rule, f.Message)
			}
			got := listing(sys)
			for _, line := range strings.Split(c.lines, "\n") {
				assert.Contains(t, got, line+"\n")
			}
		})
	}
}

func TestFactsOfWords(t *testing.T) {
	sys := clean(t, `craft "Test" {
    cable class 5, tinned, 105 degC, free
}
part class-t is fuse: class t, 125 V, breaks 20 kA, 2 pole
bus PB
class-t F1: 125 A, 80 V
fuse F2: about 100 A
run PB [about 7 m unknown mm2] F1 [2 parallel 50 mm2 in conduit] F2 [awg 00 class 2 60 degC] lamp L1
run PB [W5: 3G2.5 return 3 m] lamp L2
`)
	f1 := sys.Item("F1")
	assert.Equal(t, "class-t", f1.Part)
	assert.EqualValues(t, 80, f1.Facts.Voltage.Value, "the item overrides its part")
	assert.EqualValues(t, 20000, f1.Facts.Breaks.Value)
	assert.Equal(t, 2, f1.Facts.Poles)
	assert.Equal(t, circuit.About, sys.Item("F2").Facts.Current.State)
	first := sys.Cable("PB-F1")
	assert.Equal(t, circuit.About, first.Length.State)
	assert.Equal(t, circuit.Unknown, first.Area.State)
	assert.False(t, first.Area.Known())
	assert.True(t, first.Spec.Free, "the craft's row")
	assert.Equal(t, 5, first.Spec.Class)
	second := sys.Cable("F2-F1")
	require.NotNil(t, second, "either way round")
	assert.Equal(t, 2, second.Parallel)
	assert.True(t, second.Spec.Conduit)
	assert.False(t, second.Spec.Free, "in conduit is not free")
	third := sys.Cable("F2-L1")
	assert.InDelta(t, 67.43, float64(third.Area.Value), 0.01, "ASTM B258: 00 is 67.43 mm²")
	assert.Equal(t, "00", third.AWG)
	assert.EqualValues(t, 60, third.Spec.Insulation.Value)
	assert.Equal(t, 2, third.Spec.Class)
	own := sys.Cable("W5")
	assert.Equal(t, 3, own.Cores)
	assert.True(t, own.Protect)
	assert.EqualValues(t, 3, own.Return.Value)
}

func TestPartsComeFromAShelf(t *testing.T) {
	sys, findings := resolveText("use \"shelf.strake\"\nclass-t F1: 125 A\n", "part class-t is fuse: class t\npart other is fuse: class nh\n")
	require.Empty(t, findings)
	assert.Equal(t, "t", sys.Item("F1").Facts.Class)
}
