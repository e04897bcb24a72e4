package schematic

import (
	"slices"
	"strconv"
	"strings"

	"strake/lang/circuit"
	"strake/lang/quantity"
	"strake/render/scene"
	"strake/render/symbol"
)

// widest is how wide a note of such capitals gets before it breaks into a
// second line.
func (c caps) widest(capital int) int { return 27 * (capital + 250) / 500 * (100 + c.wide) }

// deviceNote is what stands beside an upright symbol: reference, rating, what
// it is called, and the drop at a load.
func (m *model) deviceNote(it *circuit.Item) note {
	name := word{it.Ref, m.caps.ref, true}
	if m.d.byHand(it) {
		name.cap = m.caps.hand
	}
	rating := m.d.rating(it)
	if m.d.gathered(it) {
		rating = "" // its bar tells it once
	}
	n := note{{name}}
	if rating != "" {
		r := word{rating, m.caps.ref, false}
		more := it.Label != "" || len(m.d.further(it)) > 0
		if joined := (line{name, r}); more && joined.width() <= m.caps.widest(m.caps.ref)*9/8 {
			n[0] = joined
		} else {
			n = append(n, wrapped(rating, m.caps.widest(m.caps.ref)*5/4, m.caps.ref, false)...)
		}
	}
	words := append([]string{it.Label}, m.d.further(it)...)
	text := commas(append(words, m.whereElse(it))...)
	if all := append(slices.Clone(n[0]), word{text, m.caps.note, false}); m.caps.wide > 0 && text != "" && len(n) == 1 && all.width() <= m.caps.widest(m.caps.ref) {
		return note{all} // where there is width, what is said of a fuse stands in one line
	}
	if !m.d.livePosts(it) {
		return append(n, m.wrap(text, m.caps.note)...)
	}
	// A battery stands at the edge, where there is more width than height.
	width := m.caps.widest(m.caps.note) * 3 / 2
	n = append(n, wrapped(text, width, m.caps.note, false)...)
	live := line{{"ALWAYS LIVE", m.caps.note, true}}
	if last := slices.Concat(n[len(n)-1], live); text != "" && last.width() <= width {
		n[len(n)-1] = last
		return n
	}
	return append(n, live)
}

func (m *model) wrap(text string, capital int) note {
	return wrapped(text, m.caps.widest(capital), capital, false)
}

// deviceLevel is the same centred above a symbol in a level wire.
func (m *model) deviceLevel(it *circuit.Item) note {
	n := m.deviceNote(it)
	if len(n) > 4 {
		return nil // too much to stand above a wire: it stays upright
	}
	return n
}

// cableNote is what stands beside an upright wire: size, then length.
func (m *model) cableNote(c *circuit.Cable) note {
	if c.Link {
		return nil
	}
	var n note
	if c.OwnRef {
		n = append(n, line{{c.ID, m.caps.note, true}})
	}
	parts := []string{m.d.sizeText(c), m.d.lengthText(c)}
	if m.caps.short {
		parts = []string{join(parts...)}
	}
	for _, s := range parts {
		if s != "" {
			n = append(n, wrapped(s, m.caps.widest(m.caps.note), m.caps.note, false)...)
		}
	}
	if s := statusText(c.Status); s != "" {
		n = append(n, wrapped(s, m.caps.widest(m.caps.note), m.caps.note, false)...)
	}
	if m.both[c] {
		n[len(n)-1] = append(slices.Clone(n[len(n)-1]), m.caps.arrow(bothWays))
	}
	return n
}

// bothWays marks what two sides can feed, beside an upright and a level wire.
const (
	bothWays      = "↕"
	bothWaysLevel = "↔"
)

// arrow is a sign larger than its note, as far as that costs little height.
func (c caps) arrow(sign string) word { return word{sign, max(c.ref, c.note*6/5), true} }

// cableLevel is the same under a level wire, in one line where it can be; the
// arrow stands in a line of its own, for it is wide when it lies.
func (m *model) cableLevel(c *circuit.Cable) note {
	n := m.cableNote(c)
	var arrow note
	if m.both[c] {
		n[len(n)-1] = n[len(n)-1][:len(n[len(n)-1])-1]
		arrow = note{{m.caps.arrow(bothWaysLevel)}}
	}
	if len(n) == 2 {
		if l := slices.Concat(n[0], n[1]); l.width() < 4000 {
			n = note{l}
		}
	}
	return append(n, arrow...)
}

// sizeText is a cable's size as the trade writes it.
func (d *draught) sizeText(c *circuit.Cable) string {
	p := d.sizes[c]
	area, parallel := c.Area.Opt(), max(1, c.Parallel)
	chosen := false
	if p != nil && p.Area.Known {
		area, parallel, chosen = p.Area, max(1, p.Parallel), p.Chosen
	}
	if !area.Known {
		return notGiven + " mm²"
	}
	s := number(float64(area.Value)) + " mm²"
	switch {
	case c.Cores > 0 && c.Protect:
		s = strconv.Itoa(c.Cores) + "G" + s
	case c.Cores > 0:
		s = strconv.Itoa(c.Cores) + "X" + s
	}
	switch {
	case chosen && p.Gauge != "":
		s = "AWG " + p.Gauge
	case c.AWG != "" && !chosen:
		s = "AWG " + c.AWG
	}
	if parallel > 1 {
		s = strconv.Itoa(parallel) + " × " + s
	}
	if chosen {
		s = proposed(s)
	}
	return s
}

func (d *draught) lengthText(c *circuit.Cable) string {
	if !c.Length.Known() {
		return notGiven + " m"
	}
	s := unit(c.Length.Value, "m")
	if c.Length.State == circuit.About {
		s = "about " + s
	}
	return s
}

// endNote is what stands at an end that lands on nothing.
func (m *model) endNote(e circuit.End, c *circuit.Cable) note {
	if e.Capped == nil {
		return note{line{{"untraced", m.caps.note, false}}}
	}
	return m.wrap("end capped, "+placeName(e.Capped), m.caps.note)
}

func placeName(p *circuit.Place) string {
	if p == nil {
		return ""
	}
	if p.Label != "" {
		return p.Label
	}
	return strings.ReplaceAll(p.Name, "-", " ")
}

func statusText(s circuit.Status) string {
	switch s {
	case circuit.ThirdParty:
		return "third party"
	case circuit.Prepared:
		return "prepared"
	case circuit.Owner:
		return "owner's"
	case circuit.Removed:
		return "REMOVED"
	}
	return ""
}

// withStatus is a name with a status behind it in brackets, where there is one
// to tell.
func withStatus(name string, s circuit.Status) string {
	if text := statusText(s); text != "" {
		return join(name, "("+text+")")
	}
	return name
}

// barName is a bar's name with its rating, then what it is and its voltage.
func (m *model) barName(it *circuit.Item) note {
	n := note{{{it.Ref, m.caps.hand, true}}}
	if r := m.d.rating(it); r != "" {
		n[0] = append(n[0], word{r, m.caps.ref, false})
	}
	if it.Label != "" {
		n[0] = append(n[0], word{it.Label, m.caps.ref, false})
	}
	tag, rest := highest(it.Domain), commas(placeName(it.Place), statusText(it.Status))
	both := commas(tag, rest)
	var live line
	if m.d.alwaysLive[it] {
		live = line{{"ALWAYS LIVE", m.caps.note, true}}
		if s := m.d.packs(it); s != "" {
			live = append(live, word{s, m.caps.note, false})
		}
	}
	if joined := slices.Concat(n[0], line{{both, m.caps.note, false}}, live); m.caps.short && it.Board != nil && joined.width() < 10500 {
		return note{joined}
	}
	if rest != "" && it.Board == nil && scene.Width(both, m.caps.note, false) > max(n.width(), 2*m.caps.widest(m.caps.note)) {
		n = append(n, line{{tag, m.caps.note, false}}, line{{rest, m.caps.note, false}})
	} else {
		n = append(n, line{{both, m.caps.note, false}})
	}
	if len(live) > 0 {
		n = append(n, live)
	}
	return n
}

// whereElse is the place of a thing that stands elsewhere than what feeds it,
// or that nothing feeds: where a reader has to walk.
func (m *model) whereElse(it *circuit.Item) string {
	where := endPlace(circuit.End{Item: it})
	if where == "" || it.Kind == "battery" || strings.Contains(it.Label, where) { // a battery tells its place beside what it is
		return ""
	}
	for _, c := range m.d.cables[it] {
		if s := m.supply(c); s.Item != nil && s.Item != it && !circuit.IsControl(s.Port) && endPlace(s) == where {
			return ""
		}
	}
	return "at " + where
}

// proposed sets what is not fitted apart from what is, on a black copy too.
func proposed(s string) string { return "[needs " + s + "]" }

// rating is the number by which a thing is bought.
func (d *draught) rating(it *circuit.Item) string {
	f := it.Facts
	if p := d.devices[it]; p != nil && p.Rating.Known {
		s := unit(p.Rating.Value, "A")
		if p.Chosen {
			return proposed(s)
		}
		return join(s, known(milli(f.Trip), "mA"))
	}
	current := known(f.Current.Opt(), "A")
	if f.Current.State == circuit.Unknown {
		current = notGiven + " A"
	}
	switch it.Kind {
	case "fuse", "breaker", "rcbo":
		if !f.Current.Known() { // a blank would be taken for what is not worth a word
			current = notGiven + " A"
		}
	}
	power := ""
	if f.Power.Known() {
		power = kilo(f.Power.Value, "W")
	}
	apparent := ""
	if f.Apparent.Known() {
		apparent = kilo(f.Apparent.Value, "VA")
	}
	voltage := known(f.Voltage.Opt(), "V")
	switch it.Kind {
	case "battery":
		return join(voltage, known(f.Capacity.Opt(), "Ah"))
	case "bank":
		return known(domainVoltage(it.Domain), "V")
	case "converter", "charger":
		return join(d.conversion(it), current, power)
	case "inverter", "transformer", "generator":
		return join(apparent, power, current)
	case "inverter-charger":
		return join(apparent, power)
	case "array":
		return modules(f, power)
	case "regulator":
		return join(voltage, current)
	}
	return join(power, current, known(milli(f.Trip), "mA"))
}

func modules(f circuit.Facts, power string) string {
	if n := max(1, f.InSeries) * max(1, f.InParallel); n > 1 {
		return strconv.Itoa(n) + " × " + power
	}
	return power
}

func milli(f circuit.Fact[quantity.Ampere]) quantity.Opt[quantity.Ampere] {
	return quantity.Opt[quantity.Ampere]{Value: f.Value * 1000, Known: f.Known()}
}

// conversion is 48→24 V.
func (d *draught) conversion(it *circuit.Item) string {
	in, out := domainVoltage(it.PortDomain("in")), domainVoltage(it.PortDomain("out"))
	switch {
	case in.Known && out.Known:
		return number(float64(in.Value)) + "→" + number(float64(out.Value)) + " V"
	case out.Known:
		return "→" + number(float64(out.Value)) + " V"
	}
	return known(it.Facts.Voltage.Opt(), "V")
}

func domainVoltage(m *circuit.Domain) quantity.Opt[quantity.Volt] {
	if m == nil {
		return quantity.Opt[quantity.Volt]{}
	}
	return m.Nominal.Opt()
}

// further is what else a reader asks of a thing, a line each.
func (d *draught) further(it *circuit.Item) []string {
	f := it.Facts
	var out []string
	say := func(s string) {
		if s != "" {
			out = append(out, s)
		}
	}
	switch it.Kind {
	case "battery":
		if !d.gathered(it) {
			say(commas(strings.ToUpper(f.Chemistry), placeName(it.Place)))
		}
	case "inverter-charger":
		if f.Charge.Known() {
			say("charger " + unit(f.Charge.Value, "A"))
		}
	case "array":
		if f.InSeries > 1 {
			say(strconv.Itoa(f.InSeries) + " in series")
		}
		if v := d.cold[it]; v.Known {
			say("up to " + volts(v.Value) + " V")
		}
	case "motor", "thruster":
		if f.Peak.Known() {
			say("peak " + unit(f.Peak.Value, "A"))
		}
	case "fuse":
		say(className(f.Class))
	case "changeover":
		out = append(out, d.positions(it)...)
	}
	if it.Nature().Load || it.Nature().Converts {
		for _, c := range d.cables[it] {
			s := d.sizes[c]
			if s != nil && s.CumulativePercent.Known && (c.To.Item == it && c.To.Port != "out" || c.From.Item == it && c.From.Port == "in") && !s.Of.Link && it.Nature().Load {
				say("drop " + percent(s.CumulativePercent.Value))
				break
			}
		}
	}
	for _, from := range d.workedFrom(it) {
		say(from)
	}
	say(statusText(it.Status))
	return out
}

// className is a fuse's class or construction as it is stamped.
func className(class string) string {
	switch class {
	case "t":
		return "class T"
	case "gg":
		return "class gG"
	case "gr":
		return "class gR"
	case "ar":
		return "class aR"
	case "gpv":
		return "class gPV"
	case "nh":
		return "NH"
	}
	return class
}

// gathered tells a pack that comes together with others of its like on a bar,
// which tells once what they are and where they stand.
func (d *draught) gathered(it *circuit.Item) bool {
	for _, c := range d.cables[it] {
		if e, ok := d.away(c, it); ok && it.Kind == "battery" && e.Item.Kind == "bus" && d.gathers(e.Item) {
			return d.packs(e.Item) != ""
		}
	}
	return false
}

// packs is what comes together on a bar, when all of it is alike: 3 × 51.2 V 100 Ah LFP.
func (d *draught) packs(bar *circuit.Item) string {
	n, common := 0, ""
	for _, c := range d.cables[bar] {
		e, ok := d.away(c, bar)
		if !ok || e.Item.Kind != "battery" {
			continue
		}
		if n > 0 && packText(d, e.Item) != common {
			return ""
		}
		n, common = n+1, packText(d, e.Item)
	}
	if n < 2 {
		return ""
	}
	return strconv.Itoa(n) + " × " + common
}

func packText(d *draught, it *circuit.Item) string {
	return join(d.rating(it), strings.ToUpper(it.Facts.Chemistry))
}

func commas(words ...string) string {
	return strings.Join(slices.DeleteFunc(words, func(s string) bool { return s == "" }), ", ")
}

func percent(p quantity.Percent) string {
	return number(float64(int(float64(p)*10+0.5))/10) + " %"
}

func join(words ...string) string {
	var kept []string
	for _, w := range words {
		if w != "" {
			kept = append(kept, w)
		}
	}
	return strings.Join(kept, " ")
}

// variant is what changes the strokes of an item's symbol.
func (m *model) variant(it *circuit.Item) symbol.Variant {
	v := symbol.Variant{Poles: it.Facts.Poles, InAC: alternating(it.PortDomain("in")), OutAC: alternating(it.PortDomain("out"))}
	if it.Kind == "changeover" {
		for _, p := range it.Ports {
			if p.Name != "out" {
				v.Ways = append(v.Ways, p.Name)
			}
		}
	}
	return v
}

func alternating(d *circuit.Domain) bool { return d != nil && d.AC }

// positions names what feeds a changeover in each of its positions, so that the
// contacts on the sheet need no names.
func (d *draught) positions(it *circuit.Item) []string {
	var out []string
	for _, p := range it.Ports {
		if p.Name == "out" {
			continue
		}
		for _, c := range d.landed[circuit.Terminal{Item: it, Port: p.Name}] {
			other := c.From
			if other.Item == it {
				other = c.To
			}
			if other.Item != nil {
				out = append(out, strings.ReplaceAll(p.Name, "-", " ")+" "+other.Item.Ref)
			}
		}
	}
	return out
}
