package resolve

import "strake/lang/circuit"

var (
	automatic = property("automatic", "automatic", "it starts by itself: it has a float of its own, or an input for automatic running", func(f *circuit.Facts, _ match) { f.Automatic = true })
	manual    = property("manual", "manual", "it has an input of its own for manual running", func(f *circuit.Facts, _ match) { f.Manual = true })
)

// driving is what propulsion and other motors take besides.
var driving = list(efficiency, regenerates, precharge)

var loadKinds = []*Kind{
	row("Loads", "motor", "M", "an electric motor with its controller; kilowatts are electrical", `motor M1 "Port pod" at engine-space: 8 kW, 170 A, precharge`, ports(oneEnd, enable), consuming, driving),
	row("Loads", "thruster", "M", "a bow or stern thruster", `thruster TH1 "Bow thruster" at bow: 5 kW, 230 A for 3 min every 30 min`, ports(oneEnd, enable), consuming, driving),
	row("Loads", "starter", "M", "an engine's starter motor", `starter ST1 at engine-space: start 300 A`, oneEnd, consuming),
	row("Loads", "pump", "M", "a pump", `pump P1 "Forward bilge pump" at bow: 72 W, bilge, must be live`,
		ports(oneEnd, PortRow{Name: "auto", Help: "its automatic input", Optional: true}, PortRow{Name: "manual", Help: "its manual input", Optional: true}),
		consuming, list(bilge, automatic, manual)),
	row("Loads", "load", "E", "anything that takes power", `load L1 "Fridge" at cabin: 60 W, 8 h/day`, oneEnd, consuming, list(bilge, navigation, blower)),
	row("Loads", "lamp", "E", "a lamp or a circuit of lamps", `lamp L2 "Masthead light" at mast: 10 W, navigation`, oneEnd, consuming, list(navigation)),
	row("Loads", "socket", "X", "a socket outlet", `socket X2 "Cabin sockets" at cabin: 10 A`, oneEnd, consuming),
}
