package rule

// Voltage domains: conductors, sources, loads and banks of one voltage together.

import (
	"fmt"

	"strake/lang/circuit"
	"strake/lang/diag"
	"strake/lang/quantity"
)

var domainsMixed = Rule{diag.Info{Rule: "domains-mixed", Severity: diag.Danger,
	Title:  "a cable between two voltage domains",
	Why:    "A cable joins its ends: what stands at the lower voltage gets the higher one. Only a converter or a transformer lies between two domains.",
	Source: "common practice",
	Bad:    twoDomains + "run PB [link] fuse F2: class t, 125 V, breaks 20 kA, 40 A [1 m 10 mm2] bus PX in winch at locker: 100 A\n",
	Good:   goodFeeder,
}, func(p *pass) {
	for _, c := range p.cables {
		from, to := endDomain(c.Of.From), endDomain(c.Of.To)
		switch {
		case from == nil || to == nil:
			continue
		case from == to:
			p.ok(c.Of.ID)
		default:
			p.fail(c.Of.ID, diag.Finding{
				Message: fmt.Sprintf("the cable %s joins %s, which is in %s, to %s, which is in %s", c.Of.ID, endName(c.Of.From), from.Name, endName(c.Of.To), to.Name),
				Span:    c.Of.Span, Related: p.where(ends(c.Of)), Items: refs(ends(c.Of)),
				Cure: fmt.Sprintf("put a converter between %s and %s, or move one of the two into the other's domain", from.Name, to.Name),
			})
		}
	}
	p.items(func(it *circuit.Item) { // a device whose two sides are in different domains
		if n := it.Nature(); n.Converts || n.Ends != circuit.TwoEnds {
			return
		}
		in, out := it.PortOnly("in"), it.PortOnly("out")
		if in == nil || out == nil || in == out {
			return
		}
		p.fail(it.Ref, diag.Finding{
			Message: fmt.Sprintf("%s lies between %s and %s and converts nothing", called(it), in.Name, out.Name),
			Span:    it.RefSpan, Cure: fmt.Sprintf("put a converter between %s and %s", in.Name, out.Name),
		})
	})
}}

// endDomain is the domain in which a cable's end lies, as far as it is its own.
func endDomain(e circuit.End) *circuit.Domain {
	if e.Item == nil || e.Item.Broken || e.Item.MemberOf != nil || circuit.IsControl(e.Port) {
		return nil
	}
	return e.Item.PortDomain(e.Port)
}

func ends(c *circuit.Cable) []*circuit.Item {
	var list []*circuit.Item
	for _, e := range []circuit.End{c.From, c.To} {
		if e.Item != nil {
			list = append(list, e.Item)
		}
	}
	return list
}

const twoDomains = `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain house: dc 12 V, 10.5 V to 14.6 V
domain winch: dc 24 V, 21 V to 29.6 V
place locker "Locker": 40 degC
run battery B1 in house at locker: agm, 12 V, 75 Ah, resistance 6 mohm
    [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A
    [0.1 m 25 mm2] isolator Q1: 100 A, 32 V, 1 pole, load-break
    [0.2 m 25 mm2] bus PB in house at locker: 100 A
`

var voltageOfAnother = Rule{diag.Info{Rule: "voltage-of-another-domain", Severity: diag.Danger,
	Title:  "a thing of another voltage than its domain",
	Why:    "A 12 V lamp on 24 V burns; a 24 V charger on a 12 V bank boils it.",
	Source: "common practice",
	Bad:    header + "run battery B1 in house at locker: agm, 24 V, 75 Ah, resistance 6 mohm [0.1 m 25 mm2] fuse F1: class t, 125 V, breaks 20 kA, 80 A [2 m 25 mm2] pump P1 at locker: 60 W\n",
	Good:   goodFeeder,
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		n := it.Nature()
		if n.Converts {
			p.converterVolts(it)
			return
		}
		if it.Kind == "battery" && it.Facts.Voltage.State == circuit.Unstated && (it.MemberOf == nil || it.MemberOf.Bank.Series) {
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: fmt.Sprintf("the nominal voltage of %s, such as `12 V`", it.Ref)})
			return
		}
		if !(n.Source || n.Load) || !it.Facts.Voltage.Known() || it.Kind == "array" || it.MemberOf != nil || it.Bank != nil {
			return
		}
		d := it.Domain
		if d == nil || !d.Nominal.Known() {
			return
		}
		if alike(it.Facts.Voltage.Value, d.Nominal.Value) {
			p.ok(it.Ref)
			return
		}
		p.fail(it.Ref, diag.Finding{
			Message: fmt.Sprintf("%s is for %s and lies in %s, which is %s", called(it), it.Facts.Voltage.Value, d.Name, d.Nominal.Value),
			Span:    it.RefSpan, Related: inDomain(d),
			Cure: fmt.Sprintf("use one for %s, or put a converter between", d.Nominal.Value),
		})
	})
}}

// converterVolts holds both sides of what converts against the domains that they
// are connected to. A plain voltage is the output's; `input` is the other side's,
// of a regulator what its array side stands, which the array's rules judge. What
// passes current both ways may state either side of its direct current.
func (p *pass) converterVolts(it *circuit.Item) {
	sides := []struct {
		said  circuit.Fact[quantity.Volt]
		what  string
		ports []string
	}{
		{it.Facts.Voltage, "output", []string{"out", "out1", "dc"}},
		{it.Facts.InputVolt, "input", []string{"in", "in1", "dc"}},
	}
	for _, side := range sides {
		if !side.said.Known() || it.Kind == "regulator" && side.what == "input" {
			continue
		}
		var wrong *circuit.Domain
		fits := false
		for _, port := range side.ports {
			if !it.HasPort(port) {
				continue
			}
			d := it.PortDomain(port)
			switch {
			case d == nil || !d.Nominal.Known():
			case alike(side.said.Value, d.Nominal.Value):
				fits = true
			case wrong == nil || port == "dc":
				wrong = d
			}
		}
		if fits || wrong == nil {
			if fits {
				p.ok(it.Ref)
			}
			continue
		}
		cure := fmt.Sprintf("use one for %s on that side", wrong.Nominal.Value)
		if it.Kind == "regulator" {
			cure += fmt.Sprintf("; if %s is what its array side stands, write `input %s`", side.said.Value, side.said.Value)
		}
		p.fail(it.Ref, diag.Finding{
			Message: fmt.Sprintf("the %s of %s is for %s and is connected to %s, which is %s", side.what, called(it), side.said.Value, wrong.Name, wrong.Nominal.Value),
			Span:    it.RefSpan, Related: inDomain(wrong), Cure: cure,
		})
	}
}

// alike tells voltages that go by one name: 12, 12.8 and 14.4; 36 and 38.4; 48, 51.2 and 58.4.
func alike(a, b quantity.Volt) bool { return max(a, b) <= 1.25*min(a, b) }

var bankVoltage = Rule{diag.Info{Rule: "bank-voltage", Severity: diag.Danger,
	Title:  "a bank whose members do not make its domain's voltage",
	Why:    "Series where parallel was meant, or the reverse, is the commonest cause of battery fires at re-connection: the voltage doubles, or two posts are joined that stand at different volts.",
	Source: "insurers' fire statistics; common practice",
	Bad:    pair("parallel"),
	Good:   pair("series"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		d := it.Domain
		if it.Bank == nil || d == nil || !d.Nominal.Known() {
			return
		}
		total, known := bankVolts(it)
		form, other := "in parallel", "series"
		if it.Bank.Series {
			form, other = "in series", "parallel"
		}
		switch {
		case !known:
			p.unverified(it.Ref, diag.Finding{Span: it.RefSpan, Missing: "the nominal voltage of each member of " + it.Ref})
		case !alike(total, d.Nominal.Value):
			p.fail(it.Ref, diag.Finding{
				Message: fmt.Sprintf("%s: %d members %s make %s, and %s is %s", called(it), len(it.Bank.Members), form, total, d.Name, d.Nominal.Value),
				Span:    it.Span, Items: refs(it.Bank.Members), Related: inDomain(d),
				Cure: fmt.Sprintf("write `in %s` if that is how the links are fitted, else correct the domain", other),
			})
		default:
			p.ok(it.Ref)
		}
	})
}}

// mislinked tells a member of a bank, or a bank, whose links make another
// voltage than its domain's.
func (p *pass) mislinked(it *circuit.Item) bool {
	top := it.TopBank()
	total, known := bankVolts(top)
	return top.Bank != nil && top.Domain != nil && top.Domain.Nominal.Known() && known && !alike(total, top.Domain.Nominal.Value)
}

// bankVolts is the nominal voltage that members make together.
func bankVolts(it *circuit.Item) (quantity.Volt, bool) {
	if it.Bank == nil {
		return it.Facts.Voltage.Value, it.Facts.Voltage.Known()
	}
	sum, first := quantity.Volt(0), quantity.Volt(0)
	for i, m := range it.Bank.Members {
		v, ok := bankVolts(m)
		if !ok {
			return 0, false
		}
		sum += v
		if i == 0 {
			first = v
		}
	}
	if it.Bank.Series {
		return sum, true
	}
	return first, len(it.Bank.Members) > 0
}

// pair is a winch pair linked in one form or the other.
func pair(form string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain winch: dc 24 V, 21 V to 29.6 V
place locker "Locker": 40 degC
battery W1..W2 at locker: agm, 12 V, 75 Ah, resistance 6 mohm, terminals 105 degC
bank WB "Winch pair" in winch is W1..W2 in ` + form + ` [0.2 m 35 mm2]
run WB [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 48 V, 1 pole, load-break [2 m 35 mm2] motor M1 at locker: 1 kW
`
}

var stringTapped = Rule{diag.Info{Rule: "string-tapped", Severity: diag.Danger,
	Title:  "a cable on a member of a series string",
	Why:    "The tapped battery is emptied and the others are overcharged; a lithium string without a management of its own for each block can burn.",
	Source: "three trade articles on tapping series stacks; common practice",
	Bad:    pair("series") + "domain house: dc 12 V, 10.5 V to 14.6 V\nrun W2 [0.1 m 2.5 mm2] fuse F2: class t, 125 V, breaks 20 kA, 5 A [2 m 2.5 mm2] load L1 in house at locker: 20 W\n",
	Good:   pair("series"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.MemberOf == nil || it.MemberOf.Bank == nil || !it.MemberOf.Bank.Series {
			return
		}
		tapped := false
		for _, c := range p.cables {
			if c.Of.Bank != nil || c.Of.From.Item != it && c.Of.To.Item != it {
				continue
			}
			tapped = true
			p.fail(it.Ref, diag.Finding{
				Message: fmt.Sprintf("the cable %s takes current from %s, one of the string %s", c.Of.ID, it.Ref, it.MemberOf.Ref),
				Span:    c.Of.Span, Related: []diag.Related{{Span: it.MemberOf.Span, Message: "the string"}}, Items: []string{c.Of.ID, it.MemberOf.Ref},
				Cure: fmt.Sprintf("take the voltage from the whole string %s through a converter", it.MemberOf.Ref),
			})
		}
		if !tapped {
			p.ok(it.Ref)
		}
	})
}}

var seriesNotPermitted = Rule{diag.Info{Rule: "series-not-permitted", Severity: diag.Danger,
	Title:  "lithium packs in series without the maker's leave",
	Why:    "Each pack's own switch must break the voltage of the whole string; many cannot. One that opens puts it all across its own contacts.",
	Source: "common practice, in line with battery makers' manuals",
	Bad:    lithiumPair(""),
	Good:   lithiumPair(", series allowed"),
}, func(p *pass) {
	p.items(func(it *circuit.Item) {
		if it.Bank == nil || !it.Bank.Series {
			return
		}
		for _, m := range it.Bank.Members {
			if m.Facts.Chemistry == "lfp" && !m.Facts.SeriesAllowed {
				p.fail(it.Ref, diag.Finding{
					Message: fmt.Sprintf("%s puts lithium packs in series, and nothing says that their maker permits it", called(it)),
					Span:    it.RefSpan, Related: p.where([]*circuit.Item{m}), Items: []string{m.Ref},
					Cure: "read the maker's manual; if it permits the string, write `series allowed` on the packs",
				})
				return
			}
		}
		p.ok(it.Ref)
	})
}}

func lithiumPair(more string) string {
	return `craft "Small boat" {
    cable class 5, tinned, 105 degC, free
}
domain drive: dc 24 V, 21 V to 29.2 V
place locker "Locker": 40 degC
battery B1..B2 at locker: lfp, 12.8 V, 100 Ah, resistance 6 mohm, discharge 100 A, charge 50 A, terminals 105 degC` + more + `
bank SB "String" in drive is B1..B2 in series [0.2 m 35 mm2]
run SB [0.1 m 35 mm2] fuse F1 at locker: class t, 125 V, breaks 20 kA, 100 A [0.1 m 35 mm2] isolator Q1 at locker: 150 A, 48 V, 1 pole, load-break [2 m 35 mm2] motor M1 at locker: 1 kW
`
}
