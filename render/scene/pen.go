package scene

// The pens of the sheet, in hundredths of a millimetre after ISO 128. What a
// conductor is stands in its width and pattern; colour is only a second help,
// and every colour turns black in a photocopy. No pattern's period is longer
// than 6 mm: a longer one cannot be told in a short wire.
var (
	SymbolPen  = Pen{Width: 35}
	ThinPen    = Pen{Width: 25}                       // strokes, plus signs, thin table rules
	LinkPen    = Pen{Width: 25, Dash: []int{70, 50}}  // mechanical link inside a symbol
	GroupPen   = Pen{Width: 18}                       // frame round a group of batteries
	FramePen   = Pen{Width: 70}                       // frame and main rules
	RulePen    = Pen{Width: 25}                       // rules of tables
	FramePen35 = Pen{Width: 35}                       // reference border, stronger table rules
	SignalPen  = Pen{Width: 25, Dash: []int{200, 70}} // control and data
	NoPen      = Pen{}                                // filled shapes
)

// WireStyle is a look of a conductor. The names say what each is meant for;
// which domain takes which is the caller's choice.
type WireStyle int

const (
	MainDC     WireStyle = iota // 0.7 solid: the highest direct voltage
	MiddleDC                    // 0.5 long dashes
	LowDC                       // 0.35 solid
	MainAC                      // 0.5 dash dot
	SolarDC                     // 0.5 short dash dot dot, busier than any other
	Protective                  // 0.35 dash short dash: protective earth and bonds
	FourthDC                    // 0.7 dashes: one more direct voltage
	SecondAC                    // 0.7 short dash dot: one more alternating voltage
)

// WireStyles is how many there are.
const WireStyles = 8

// WirePen is the pen of a conductor of that style.
func WirePen(s WireStyle) Pen {
	switch s {
	case MainDC:
		return Pen{70, nil, "#a3121f"}
	case MiddleDC:
		return Pen{50, []int{420, 100}, "#7a4300"}
	case LowDC:
		return Pen{35, nil, "#0b4a96"}
	case MainAC:
		return Pen{50, []int{360, 90, 50, 90}, "#5a2a86"}
	case SolarDC:
		return Pen{50, []int{140, 70, 50, 70, 50, 70}, "#31600a"}
	case Protective:
		return Pen{35, []int{300, 80, 100, 80}, "#00683a"}
	case FourthDC:
		return Pen{70, []int{250, 90}, "#8a0f5c"}
	case SecondAC:
		return Pen{70, []int{180, 90, 70, 90}, "#2f2a86"}
	}
	return Pen{Width: 35}
}

// BarPen is the pen of a bar in the colour of a style: always 1.4 solid.
func BarPen(s WireStyle) Pen { return Pen{140, nil, WirePen(s).Colour} }

// Prepared is the pen for what is laid but not connected; the pattern of the
// status wins over that of the domain. Its gaps are as long as its dashes: no
// voltage's line is so thin of ink.
func (p Pen) Prepared() Pen { return Pen{p.Width, []int{160, 160}, p.Colour} }

// Removed is the pen for what was taken out and is drawn so that nobody looks for
// it: hardly more than dots.
func (p Pen) Removed() Pen { return Pen{p.Width, []int{60, 330}, p.Colour} }

// Owners is the pen for the owner's own work to come.
func (p Pen) Owners() Pen { return Pen{p.Width, []int{50, 110}, p.Colour} }
