package resolve

// The words that the trade has for what the language calls otherwise: of kinds
// and of properties. They are never taken for it in silence: they make the cure
// of a finding.

import (
	"fmt"
	"slices"
	"strings"

	"strake/lang/diag"
	"strake/lang/source"
	"strake/lang/syntax"
)

// tradeKinds is the kind of what the trade has other words for. A row may name
// several kinds; a word that no row has is looked for without its first part.
var tradeKinds = []struct {
	kinds string // more than one: the author has to choose
	words string
	note  string
}{
	{"fuse", "fuse-holder fuseholder fusible blade-fuse class-t-fuse strip-fuse link-fuse inline-fuse main-fuse fuses", "its holder is a property, `holder 32 V`"},
	{"breaker", "circuit-breaker circuitbreaker cb mcb mccb trip thermal-breaker switch-breaker breakers", ""},
	{"rcd", "rccb elcb gfci gfi residual-current-device", ""},
	{"meter", "battery-monitor monitor voltmeter ammeter gauge energy-meter", "the resistor that it measures with is a `shunt`, in the negative"},
	{"motor", "windlass winch capstan anchor-winch propulsion-motor outboard pod electric-motor trim-tabs actuator bow-winch furler", ""},
	{"pump", "macerator watermaker washdown", ""},
	{"load", "fridge refrigerator freezer cooler icebox radio vhf stereo speaker amplifier gps plotter chartplotter radar autopilot pilot cooker hob oven microwave kettle heater boiler water-heater immersion air-con aircon fan blower horn wiper tv television router ais laptop computer instruments instrument sounder echo-sounder depth-sounder log toilet washing-machine alarm epirb sensor camera load-bank consumer appliance electronics mfd", "its label says what it is"},
	{"lamp", "light lights lighting led leds luminaire bulb spotlight searchlight lamps", ""},
	{"socket", "outlet receptacle plug power-point usb usb-socket charger-socket accessory-socket sockets", ""},
	{"board", "switchboard distribution-board distribution panelboard switch-panel fuse-box fusebox fuse-panel fuse-block consumer-unit db breaker-panel", ""},
	{"bus", "busbar bus-bar bar bars negative-bar positive-bar distribution-bar", ""},
	{"stud", "post power-post terminal-post terminal junction junction-box joint splice terminal-block", ""},
	{"charger", "battery-charger mains-charger shore-charger", ""},
	{"converter", "dc-dc dcdc dc-dc-converter dropper buck boost step-down b2b", "what charges a battery from another is a `charger`"},
	{"array", "solar solar-panel solar-panels solar-array solar-module pv pv-panel pv-array module", ""},
	{"regulator", "mppt solar-regulator solar-charger solar-controller charge-controller pwm", ""},
	{"inlet", "shore shore-power shorepower shore-inlet shore-supply hookup hook-up shore-socket", ""},
	{"source", "wind-generator wind-turbine turbine hydrogenerator hydro fuel-cell", ""},
	{"generator", "genset generating-set gen", ""},
	{"isolator", "battery-switch battery-isolator disconnector main-switch isolating-switch isolation-switch cut-off", ""},
	{"changeover", "transfer-switch ats selector selector-switch change-over source-selector", ""},
	{"relay", "vsr voltage-sensitive-relay split-charge split-charge-relay combiner", ""},
	{"contactor", "solenoid", ""},
	{"stop", "kill-switch emergency-stop e-stop estop kill-cord", ""},
	{"float-switch", "float bilge-switch level-switch", ""},
	{"earth", "ground earth-bar earthing-bar ground-bar ground-plate earth-plate anode hull earth-stud", ""},
	{"battery", "accumulator cell pack batterie akku batt", ""},
	{"panel", "throttle display screen joystick keypad start-panel", ""},
	{"transformer", "isolating-transformer trafo", ""},
	{"controller", "motor-controller esc drive vfd speed-controller", ""},
	{"alternator starter generator", "engine diesel outboard-engine", "an engine itself is not electrical; what it drives or is turned by is"},
}

// tradeKind is the kinds that a word of the trade stands for, and what is to be
// said of them.
func tradeKind(word string) (kinds []string, note string) {
	word = strings.ToLower(word)
	for _, row := range tradeKinds {
		if slices.Contains(strings.Fields(row.words), word) {
			return strings.Fields(row.kinds), row.note
		}
	}
	// `bow-thruster` is a thruster, `nav-light` a light.
	if at := strings.IndexByte(word, '-'); at >= 0 {
		rest := word[at+1:]
		if kindNamed(rest) != nil {
			return []string{rest}, ""
		}
		return tradeKind(rest)
	}
	return nil, ""
}

// tradeKindNear is the trade's word that a misspelt one was probably meant to be.
func tradeKindNear(word string) string {
	var all []string
	for _, row := range tradeKinds {
		all = append(all, strings.Fields(row.words)...)
	}
	return diag.Nearest(word, all)
}

// tellKind makes the cure of a kind that is not known.
func (r *resolver) tellKind(f *diag.Finding, w syntax.Word, parts []string) {
	word := w.Text
	if near := didYouMean(f, w.Span, word, parts); near != "" {
		r.used["part "+near] = true
		related(f, r.parts[near].name.Span, "the part `%s`", near)
		return
	}
	kinds, note := tradeKind(word)
	if kinds == nil {
		if didYouMean(f, w.Span, word, kindNames()) != "" {
			return
		}
		if word = tradeKindNear(w.Text); word != "" {
			kinds, note = tradeKind(word)
		}
	}
	switch {
	case len(kinds) == 0:
		return
	case len(kinds) == 1 && word == w.Text:
		f.Cure = fmt.Sprintf("write `%s`", kinds[0])
	case len(kinds) == 1:
		f.Cure = fmt.Sprintf("write `%s` if a %s is meant", kinds[0], word)
	default:
		f.Cure = "write " + alternatives(kinds)
	}
	if note != "" {
		f.Cure += "; " + note
	}
	if len(kinds) == 1 {
		f.Edits = []diag.Edit{{Span: w.Span, New: kinds[0]}}
	}
}

// tradeWords is what properties are called elsewhere. A row holds for every
// list that takes what it would be written as; `…` stands for what follows.
var tradeWords = []struct {
	written string // more than one, parted by `|`: the author has to choose
	words   string // parted by commas, in small letters
	note    string
}{
	{"lfp", "lifepo4, lifepo, life, li-fe, lithium iron phosphate, lithium-iron-phosphate, lithium iron, iron phosphate", ""},
	{"lfp", "lithium, li-ion, lithium-ion, lithium ion, li", " if it is lithium iron phosphate; of another lithium battery leave the word out, no rule here knows it"},
	{"agm|gel|flooded", "lead, lead acid, lead-acid, pb, sealed, sla, vrla, maintenance free, maintenance-free, deep cycle, deep-cycle", ""},
	{"flooded", "wet, open, wet cell, wet lead, flooded lead, flooded lead acid, flooded lead-acid, open lead, lead flooded", ""},
	{"agm", "absorbed glass mat, glass mat", ""},
	{"must be live", "live, always live, always on, permanent, permanently live, permanently on, unswitched, constantly live, stays live, must stay live, must be on", ""},
	{"navigation", "nav, nav light, nav lights, nav-light, nav-lights, navigation light, navigation lights", ""},
	{"bilge", "bilge pump, bilge-pump", ""},
	{"critical", "essential, vital, emergency, important, safety", ""},
	{"2 pole", "double pole, double-pole, dp, two pole, two-pole, twin pole, 2p, both poles", ""},
	{"1 pole", "single pole, single-pole, sp, one pole, 1p", ""},
	{"3 pole", "triple pole, three pole, 3p, tp", ""},
	{"4 pole", "four pole, 4p", ""},
	{"curve …", "type, characteristic, trip curve, tripping curve, trip", ""},
	{"curve b", "b curve, b-curve", ""},
	{"curve c", "c curve, c-curve", ""},
	{"curve d", "d curve, d-curve", ""},
	{"breaks …", "breaking capacity, breaking, breaking-capacity, break capacity, icu, icn, ics, aic, interrupting, interrupting capacity, interrupts, interrupting rating", ""},
	{"pf …", "power factor, power-factor, cos phi, cosphi, cos", ""},
	{"efficiency …", "eff, eta", ""},
	{"usable …", "dod, depth of discharge, depth-of-discharge", ""},
	{"resistance …", "internal resistance, inner resistance, ri, esr, impedance", ""},
	{"charge …", "max charge, charging, charge current, maximum charge, charges at, charges", ""},
	{"discharge …", "max discharge, discharging, discharge current, maximum discharge, continuous discharge, continuous", ""},
	{"peak …", "surge, inrush, max, maximum", ""},
	{"start …", "starting, starting current, cranking, cranks", ""},
	{"coil …", "coil voltage", ""},
	{"holder …", "fuse holder, fuse-holder, in holder", ""},
	{"input …", "in, input voltage, input current, primary", ""},
	{"off", "normally open, normally-open, no, n/o, usually off, open", ""},
	{"on", "normally closed, normally-closed, nc, n/c, usually on, closed", ""},
	{"load-break", "load break, loadbreak, switches load, on-load, on load", ""},
	{"isolated", "isolating, galvanically isolated, galvanic isolation, isolation", ""},
	{"one way", "one-way, unidirectional, 1 way, single direction", ""},
	{"both ways", "both-ways, two way, two-way, bidirectional, bi-directional, 2 way", ""},
	{"neutral earthed", "earthed neutral, neutral bonded, bonded neutral, earthed, n-pe bond, neutral grounded", ""},
	{"neutral floating", "floating, floating neutral, it", ""},
	{"precharge", "pre-charge, pre charge", ""},
	{"insulated", "isolated, floating, it, it system, ungrounded, unearthed, not earthed", ""},
	{"earthed negative", "negative earth, negative ground, earthed, negative earthed, grounded, negative grounded, earth negative", ""},
	{"1 phase", "single phase, single-phase, one phase", ""},
	{"3 phase", "three phase, three-phase, 3-phase, 3ph", ""},
	{"engine", "engine room, engine-room, engine space, engine-space, machinery", ""},
	{"outside", "outdoors, outdoor, exposed, on deck, weather", ""},
	{"wet", "damp, bilge", ""},
	{"ventilated", "vented, ventilation", ""},
	{"grp", "fibreglass, fiberglass, frp, glass, plastic, polyester", ""},
	{"aluminium", "alloy, alu, aluminum", ""},
	{"commercial", "coded, passenger, charter", ""},
	{"private", "leisure, pleasure, recreational", ""},
	{"inland", "river, canal, lake", ""},
	{"sheltered", "estuary, harbour, harbor", ""},
	{"offshore", "ocean, sea", ""},
	{"iso-13297", "iso13297, iso", ""},
	{"abyc-e11", "abyc, e11, e-11", ""},
	{"isc …", "short-circuit, short circuit, short-circuit current, short circuit current", ""},
	{"trip …", "time, tripping time, trip time, opening time, opens in, tripped in", ""},
	{"in conduit", "conduit, trunking, in trunking, pipe, in pipe, duct, ducting, in duct, in ducting", ""},
	{"bundled …", "bundle, grouped, bundled with, bundle of", ""},
	{"through …", "via, past", ""},
	{"free", "in air, free air, clipped, alone, single, free-air", ""},
	{"tinned", "copper, tinned copper, tin, tin-plated, marine", ""},
	{"plain", "bare, bare copper, untinned", ""},
	{"…", "rating, rated, rated at, rated for, nominal, power, current, voltage, capacity, temperature, temp, ambient, length, size, section, frequency, output, protection, strings, amps, volts, watts, long, load, draws, uses", ": the number alone says it"},
}

// tellTradeWord tells a member whose words are the trade's and not the
// language's; false when it is none.
func tellTradeWord[T any](r *resolver, v vocabulary[T], p *syntax.Property) bool {
	text := strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(p.Span.Text(), "=", " "))), " ")
	for _, row := range tradeWords {
		for _, words := range strings.Split(row.words, ", ") {
			rest, ok := strings.CutPrefix(text, words)
			open := strings.Contains(row.written, "…")
			if !ok || !open && rest != "" || open && !strings.HasPrefix(rest, " ") {
				continue
			}
			rest = strings.TrimSpace(restAsWritten(p, len(strings.Fields(words))))
			if !strings.ContainsAny(rest, "0123456789") {
				rest = strings.ToLower(rest)
			}
			var fits []string
			for _, w := range strings.Split(row.written, "|") {
				if w = strings.TrimSpace(strings.Replace(w, "…", rest, 1)); takes(v, w) {
					fits = append(fits, w)
				}
			}
			if len(fits) == 0 {
				continue
			}
			f := r.say(unknownProperty, p.Span, "write "+alternatives(fits)+row.note, "%s has no `%s`", v.owner, p.Span.Text())
			if len(fits) == 1 {
				f.Edits = []diag.Edit{{Span: p.Span, New: fits[0]}}
			}
			return true
		}
	}
	return false
}

// restAsWritten is what of a member stands behind so many words.
func restAsWritten(p *syntax.Property, words int) string {
	fields := strings.Fields(strings.ReplaceAll(p.Span.Text(), "=", " "))
	return strings.Join(fields[min(words, len(fields)):], " ")
}

// takes tells whether a vocabulary takes a text as one member.
func takes[T any](v vocabulary[T], text string) bool {
	tree, findings := syntax.Parse(source.NewFile("", "part x is fuse: "+text+"\n"))
	if len(findings) > 0 || len(tree.Statements) != 1 {
		return false
	}
	part, ok := tree.Statements[0].(*syntax.Part)
	if !ok || len(part.List) != 1 {
		return false
	}
	return slices.ContainsFunc(v.words, func(e entry[T]) bool {
		_, why := e.form.fit(part.List[0].Terms)
		return why == nil
	})
}

// otherOwners is the kinds whose lists know a word that another kind's does not.
func otherOwners(word string) []string {
	var names []string
	for _, k := range table {
		if slices.ContainsFunc(k.Properties, func(p Property) bool { return p.form[0].word == word }) {
			names = append(names, article(k.Name))
		}
	}
	return names
}
