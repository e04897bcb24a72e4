// What the demand reports, held together from the report alone: what goes into a
// device comes out of it, converters give what they take less their losses, loads
// take what their cable brings.
package main

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"strake/lang/circuit"
	"strake/lang/size"
)

func TestDemandBalances(t *testing.T) {
	texts := map[string]string{}
	for name, text := range exampleTexts(t) {
		if !strings.Contains(name, "-mistakes") {
			texts[name] = text
		}
	}
	seeds := uint64(20)
	if testing.Short() {
		seeds = 5
	}
	for seed := range seeds {
		texts[fmt.Sprintf("random craft %d", seed)] = randomCraft(seed, 50) + "condition \"Some\": M1 60 %, DB1 on\n"
	}
	checked := 0
	for name, text := range texts {
		for _, s := range solvedOf(compile(name, text)) {
			if s.Refused == "" {
				checked += balance(t, name, s)
			}
		}
	}
	assert.Greater(t, checked, 100)
}

// balance counts what it held together.
func balance(t *testing.T, name string, s size.Solved) (checked int) {
	volt := map[circuit.Terminal]float64{}
	for _, n := range s.Nodes {
		volt[n.Of] = float64(n.Voltage.Value)
	}
	into, vague := map[circuit.Terminal]float64{}, map[circuit.Terminal]bool{} // vague: a link, or a current not known, lands there too
	items := map[*circuit.Item]bool{}
	ends := map[circuit.Terminal]int{}
	for _, c := range s.Cables {
		for k, e := range [...]circuit.End{c.Of.From, c.Of.To} {
			at, lands := e.Terminal()
			if !lands {
				continue
			}
			amps := float64(c.Current.Value)
			if k == 0 {
				amps = -amps
			}
			into[at] += amps
			vague[at] = vague[at] || !c.Current.Known
			ends[at]++
			items[at.Item] = true
		}
	}
	for it := range items {
		in, out := circuit.Terminal{Item: it, Port: "in"}, circuit.Terminal{Item: it, Port: "out"}
		if it.Nature().Ends != circuit.TwoEnds || ends[in] != 1 || ends[out] != 1 || vague[in] || vague[out] || it.Nature().Contacts {
			continue
		}
		d := it.PortDomain("in")
		switch {
		case !it.Nature().Converts:
			checked++
			assert.InDelta(t, into[in], -into[out], 1e-5, "%s, %s: %s", name, s.Name, it.Ref)
		case it.Kind == "converter" && d != nil && !d.AC:
			efficiency := 0.85
			if it.Facts.Efficiency.Known() {
				efficiency = float64(it.Facts.Efficiency.Value)
			}
			checked++
			given := -into[out] * volt[out]
			assert.InDelta(t, given, into[in]*volt[in]*efficiency, 1e-4*math.Max(1, given), "%s, %s: %s", name, s.Name, it.Ref)
		}
	}
	for _, k := range s.Takers {
		if ends[k.Of] == 1 && !vague[k.Of] && k.Of.Item.Nature().Load && k.Current.Known {
			checked++
			assert.InDelta(t, into[k.Of], float64(k.Current.Value), 1e-6, "%s, %s: %s", name, s.Name, k.Of)
		}
	}
	return checked
}
