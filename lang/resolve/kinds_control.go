package resolve

var controlKinds = []*Kind{
	row("Control and display", "meter", "P", "shows a measured value", `meter ME1 "Bank monitor" at helm: 1 W`, oneEnd, list(volts, watts, amps)),
	row("Control and display", "panel", "P", "a throttle, a start panel, a screen", `panel TH1 "Throttle" at helm`, oneEnd, list(volts, watts, amps)),
}
