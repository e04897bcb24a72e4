package rule

// all is the registry, in the order of documentation: what hurts first.
var all = []Rule{
	domainsMixed, voltageOfAnother, bankVoltage, stringTapped, seriesNotPermitted, membersUnlike,
	cableUnprotected, senseLead, fuseBeyondReach, oneEndOnly, deviceAboveCable, chargerFuseAtBattery, packsWithoutFuses,
	voltageRatingTooLow, holderVoltageTooLow, breakingCapacityTooLow, poleNotSwitched,
	isolatorOverloaded, switchNotLoadBreak, bankWithoutIsolator, mustLiveSwitched, preparedOn,
	residualMissing, inletBreaker, acPole, protectiveEarthMissing, loopTooHigh, neutralEarthBonds, sourcesParallel,
	ampacityExceeded, dropExceeded, sectionTooSmall, withstandExceeded, sourceTooWeak, startOpensDevice, startTooMuch, fuseTooWarm, starterUnprotected, starterCableThin, startAboveBattery, barOverloaded,
	dischargeExceeded, powerNotDelivered, noSolution, chargeExceeded, outputOverloaded, notIsolated, monitorMissing,
	arrayTooCold, arrayTooWarm, stringFuses, arrayWithoutIsolator, loadWithoutSource, notSelective, outsideRuleSet,
	polesJoined, livePoleEarthed, poleOfAnother, insulatedBonded, earthedNegativeBonds, mainEarthMissing, earthsNotJoined, tieUnchecked, breakerPolarised, deviceInNegative, deviceBelowLoad,
	primaryDevice, primaryInrush, galvanicTooSmall, transferOverloaded, residualTypeBlind, sourceOverloaded, cableUntraced, numberNotCertain, domainNotKnown,
	preparedLive, removedEnd, bankChargesItself, feedsItself, parallelUnlike, starterBankShared, essentialOnOnePack, isolatorBypassed,
	motorSharesDevice, prechargeNotSaid, alternatorOnLithium, inletPinsLive, reserveShared,
	shoreEarthThrough, stopBreaksNothing, stopBypassed, coilUnstoppable, coilNotFed, coilVoltage, signalMovesNothing, interlockNotEnforced, essentialWaits, pumpNotStarted, pumpNotAboard, bilgeNotSaid, noPumpByItself, floatElsewhere, lightNotAboard, essentialStopped, essentialOnOther, essentialUsuallyDark, mainsInTheWet, inputBelowOutput, bondTooThin,
	arrayCurrentTooHigh, regulatorBelowArray, barBelowDevices, switchBelowDevices,
	lithiumTooHot, lithiumTooCold, batteryNotAired, tailLive, loadNotSaid, residualInSeries, earthingNotSaid,
	convertsNothing, motorWithoutIsolator, frameNotBonded, shoreEarthUnparted, chargeNotStopped, numbersDisagree, arrayWithoutRegulator, alternatorSwitched, aboveItsClass, earthColour, rangeAndChemistry, mainsDeviceOnDC, monitorsDisagree, earthAlone, linkSpansPlaces, chemistryNotSaid, readingDisagrees, sourceUnregulated,
	outputVoltage, everythingOn, bankUncharged, hullNotBonded, galvanicBypassed, sourceBelowDevice, monitorBlind, navigationNotSaid, monitorWatchesNothing,
}
