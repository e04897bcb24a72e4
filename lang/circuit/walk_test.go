package circuit_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"strake/lang/circuit"
	"strake/lang/resolve"
	"strake/lang/source"
	"strake/lang/syntax"
)

// net resolves a text that has no mistakes.
func net(t *testing.T, text string) *circuit.Net {
	t.Helper()
	tree, findings := syntax.Parse(source.NewFile("craft.strake", text))
	require.Empty(t, findings)
	sys, findings := resolve.Resolve([]*syntax.File{tree})
	for _, f := range findings {
		require.Equal(t, "name-not-used", f.Rule, f.Message)
	}
	return circuit.NewNet(sys)
}

// sides prints what feeds a cable from its two ends: "B1 | CV1.out*", with a
// star for what limits its own current.
func sides(t *testing.T, n *circuit.Net, cable string, v circuit.View) string {
	t.Helper()
	c := n.System.Cable(cable)
	require.NotNil(t, c, cable)
	var out []string
	for _, side := range n.Sides(c, v) {
		out = append(out, supplies(side.Supplies))
	}
	return strings.Join(out, " | ")
}

func supplies(list []circuit.Supply) string {
	var names []string
	for _, s := range list {
		name := circuit.Terminal{Item: s.Item, Port: s.Port}.String()
		if s.Limited {
			name += "*"
		}
		names = append(names, name)
	}
	if len(names) == 0 {
		return "-"
	}
	return strings.Join(names, " ")
}

func terminal(t *testing.T, n *circuit.Net, ref, port string) circuit.Terminal {
	it := n.System.Item(ref)
	require.NotNil(t, it, ref)
	return circuit.Terminal{Item: it, Port: port}
}

const tied = `
domain drive: dc 48 V, 44 V to 58.4 V
battery BP in drive: 51.2 V, 100 Ah
battery BS in drive: 51.2 V, 100 Ah
bus PP in drive
bus PS in drive
run BP [1 m] fuse F1: 200 A [1 m] isolator Q1 [1 m] PP
run BS [1 m] fuse F2: 200 A [1 m] isolator Q2 [1 m] PS
run PP [link] fuse F3: 100 A [6 m] isolator QT [1 m] PS
run PP [1 m] motor M1: 5 kW
run PS [1 m] converter CV1: 12 V, 40 A [1 m] board DB1: 100 A
run PS [1 m] motor M2: 5 kW, regenerates 1.5 kW
`

func TestSidesFollowTiesAndConverters(t *testing.T) {
	n := net(t, tied)
	all := circuit.View{}
	assert.Equal(t, "BP | BS M2*", sides(t, n, "BP-F1", all), "the other bank feeds back through the tie")
	assert.Equal(t, "BP | BS M2*", sides(t, n, "F3-QT", all))
	assert.Equal(t, "BP BS M2* | -", sides(t, n, "PP-M1", all), "a motor that gives nothing back")
	assert.Equal(t, "BP BS | M2*", sides(t, n, "PS-M2", all), "a motor that regenerates")
	assert.Equal(t, "BP BS M2* | -", sides(t, n, "PS-CV1", all), "a converter gives nothing back to its input")
	assert.Equal(t, "CV1.out* | -", sides(t, n, "CV1-DB1", all), "a converter's output stands for what is behind it")
	open := circuit.View{Open: map[*circuit.Item]bool{n.System.Item("QT"): true}}
	assert.Equal(t, "BP | -", sides(t, n, "BP-F1", open), "with the tie open")
}

func TestSuppliesThroughConverters(t *testing.T) {
	n := net(t, tied)
	at := terminal(t, n, "DB1", "")
	assert.Equal(t, "CV1.out*", supplies(n.Supplies(at, circuit.View{})))
	assert.Equal(t, "BP BS CV1.out* M2*", supplies(n.Supplies(at, circuit.View{Through: true})))
}

func TestSidesOfAChangeover(t *testing.T) {
	text := `
domain mains: ac 230 V, 50 Hz
inlet SH1 in mains: 16 A
generator G1 in mains: 4 kVA
run SH1 [1 m] CO1.shore
run G1 [1 m] CO1.generator
run CO1.out [1 m] load L1: 1 kW
`
	n := net(t, text+"changeover CO1: 25 A, 2 pole, break before make\n")
	assert.Equal(t, "SH1 | -", sides(t, n, "SH1-CO1", circuit.View{}), "one position at a time")
	assert.Equal(t, "G1 SH1 | -", sides(t, n, "CO1-L1", circuit.View{}), "each in turn")
	n = net(t, text+"changeover CO1: 25 A, 2 pole, make before break\n")
	assert.Equal(t, "SH1 | G1", sides(t, n, "SH1-CO1", circuit.View{}), "it joins its positions")
	n = net(t, text+"changeover CO1: 25 A, 2 pole\n")
	assert.Equal(t, "SH1 | -", sides(t, n, "SH1-CO1", circuit.View{}), "of mains it is asked, and counts as parting them")
	at := circuit.View{Position: map[*circuit.Item]string{n.System.Item("CO1"): "shore"}}
	assert.Equal(t, "SH1 | -", sides(t, n, "CO1-L1", at))
	at.Position[n.System.Item("CO1")] = "off"
	assert.Equal(t, "- | -", sides(t, n, "CO1-L1", at))
}

func TestSidesOfABatterySwitch(t *testing.T) {
	n := net(t, `
domain house: dc 12 V, 10.5 V to 14.6 V
battery B1..B2 in house: 12 V, 100 Ah
run B1 [1 m] CO1.one
run B2 [1 m] CO1.two
changeover CO1: 100 A
run CO1.out [1 m] load L1: 1 kW
`)
	assert.Equal(t, "B1 | B2", sides(t, n, "B1-CO1", circuit.View{}), "of direct current, unsaid may join its positions")
}

func TestInverterChargerPassesShoreThrough(t *testing.T) {
	n := net(t, `
domain drive: dc 48 V, 44 V to 58.4 V
domain mains: ac 230 V, 50 Hz
battery B1 in drive: 51.2 V, 100 Ah
inlet SH1 in mains: 16 A
run B1 [1 m] fuse F1 [1 m] INV1.dc
run SH1 [1 m] inverter-charger INV1.in: 3 kVA
run INV1.out [1 m] load L1: 1 kW
`)
	assert.Equal(t, "INV1.out* SH1 | -", sides(t, n, "INV1-L1", circuit.View{}))
	assert.Equal(t, "B1 | INV1.dc*", sides(t, n, "F1-INV1", circuit.View{}), "the charger is a source of its own")
	assert.Equal(t, "SH1 | -", sides(t, n, "SH1-INV1", circuit.View{}), "nothing goes back ashore")
	from := []circuit.Terminal{terminal(t, n, "B1", "")}
	reached := n.Reach(from, circuit.View{Through: true})
	assert.Contains(t, reached, terminal(t, n, "L1", ""))
	assert.NotContains(t, reached, terminal(t, n, "SH1", ""))
}

func TestSeriesStringIsOneSupply(t *testing.T) {
	n := net(t, `
domain winch: dc 24 V, 21 V to 29.6 V
battery W1..W2: 12 V, 75 Ah
bank WB in winch is W1..W2 in series [0.3 m 50 mm2]
run WB [1 m] fuse F1 [1 m] motor M1: 2 kW
run W2 [1 m] lamp L1: 5 W
`)
	assert.Equal(t, "WB | -", sides(t, n, "WB-F1", circuit.View{}))
	assert.Equal(t, "- | -", sides(t, n, "W1-W2", circuit.View{}), "a link inside the string")
	assert.Equal(t, "W2 | -", sides(t, n, "W2-L1", circuit.View{}), "a tap is fed by its member alone")
}

func TestParallelBankIsItsMembers(t *testing.T) {
	n := net(t, `
domain house: dc 12 V, 10.5 V to 14.6 V
battery B1..B3: 12 V, 100 Ah
bank HB in house is B1..B3 in parallel [0.2 m]
run HB [1 m] fuse F1 [1 m] lamp L1: 5 W
`)
	assert.Equal(t, "B1 B2 B3 | -", sides(t, n, "HB-F1", circuit.View{}))
	assert.Equal(t, "B1 | B2 B3", sides(t, n, "B1-B2", circuit.View{}))
}

func TestWaysHangOnTheBar(t *testing.T) {
	n := net(t, `
domain house: dc 12 V, 10.5 V to 14.6 V
battery B1 in house: 12 V, 100 Ah
run B1 [1 m] fuse F0 [1 m] DB1
board DB1: 100 A {
    ways 1..4 is fuse: class blade
    way 1 5 A "Lamp" 5 W [1 m]
    owner way 2 5 A "Fan" 5 W [1 m]
    way 3 5 A "Charger" [1 m] charger CH1: 12 V [1 m] fuse F2 [1 m] battery B2 in house: 12 V, 20 Ah
}
`[1:])
	assert.Equal(t, "B1 | -", sides(t, n, "DB1.1", circuit.View{}))
	assert.Equal(t, "B1 | -", sides(t, n, "DB1.3", circuit.View{}), "the charger gives nothing back")
	assert.Equal(t, "CH1.out* | B2", sides(t, n, "CH1-F2", circuit.View{}))
	handed := circuit.View{Configuration: circuit.AsHandedOver}
	reached := n.Reach([]circuit.Terminal{terminal(t, n, "DB1", "")}, handed)
	assert.Contains(t, reached, terminal(t, n, "DB1.1.load", ""))
	assert.NotContains(t, reached, terminal(t, n, "DB1.2.load", ""), "the owner's fan is not there yet")
}

func TestContactsOfOneStopAreApart(t *testing.T) {
	n := net(t, `
domain house: dc 12 V, 10.5 V to 14.6 V
domain drive: dc 48 V, 44 V to 58.4 V
battery B1 in house: 12 V, 10 Ah
battery B2 in drive: 51.2 V, 100 Ah
stop S1 "Helm stop"
run B1 [1 m] fuse F1 [1 m] S1 [1 m] relay K1.coil: coil 12 V
run B2 [1 m] fuse F2 [1 m] S1 [1 m] lamp L1: 5 W
`)
	assert.Equal(t, "B1 | -", sides(t, n, "S1-K1", circuit.View{}))
	assert.Equal(t, "B2 | -", sides(t, n, "S1-L1", circuit.View{}))
	assert.Equal(t, "drive", n.System.Cable("S1-L1").Domain.Name)
	assert.Equal(t, "house", n.System.Cable("S1-K1").Domain.Name)
}

func TestPathRunsFromSourceToLoad(t *testing.T) {
	n := net(t, tied)
	path := n.Path(terminal(t, n, "BP", ""), terminal(t, n, "M2", ""), circuit.View{})
	var names []string
	for _, st := range path {
		if st.Cable != nil {
			names = append(names, st.Cable.ID)
		}
	}
	assert.Equal(t, []string{"BP-F1", "F1-Q1", "Q1-PP", "PP-F3", "F3-QT", "QT-PS", "PS-M2"}, names)
	assert.Nil(t, n.Path(terminal(t, n, "DB1", ""), terminal(t, n, "PS", ""), circuit.View{Through: true}), "not back through the converter")
}

// What is left out of a walk for supplies feeds nothing: of every terminal of every
// example, with each cable cut and each thing open, they are those of all from
// which current can come.
func TestSuppliesAreThoseOfTheOrigin(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.strake")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		tree, _ := syntax.Parse(source.NewFile(file, string(text)))
		sys, _ := resolve.Resolve([]*syntax.File{tree})
		n := circuit.NewNet(sys)
		views := []circuit.View{{}, {Configuration: circuit.AsHandedOver}, {Through: true}}
		for i, c := range sys.Cables {
			if i%7 == 0 {
				views = append(views, circuit.View{Cut: map[*circuit.Cable]bool{c: true}})
			}
		}
		for i, it := range sys.Items {
			if i%7 == 0 {
				views = append(views, circuit.View{Open: map[*circuit.Item]bool{it: true}})
			}
		}
		at := map[circuit.Terminal]circuit.Supply{}
		for _, o := range n.Terminals() {
			for _, p := range n.Supplies(o, circuit.View{}) {
				if p.Item == o.Item && p.Port == o.Port {
					at[o] = p
				}
			}
		}
		for i, o := range n.Terminals() {
			if testing.Short() && i%5 > 0 {
				continue
			}
			for _, v := range views {
				var want []circuit.Supply
				for _, from := range n.Origin([]circuit.Terminal{o}, v) {
					if p, ok := at[from]; ok {
						want = append(want, p)
					}
				}
				require.Equal(t, supplies(want), supplies(n.Supplies(o, v)), "%s: %s", file, o)
				require.Equal(t, len(want) > 0, n.Fed(o, v, nil), "%s: %s", file, o)
			}
		}
	}
}
