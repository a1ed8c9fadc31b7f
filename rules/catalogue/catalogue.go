// Package catalogue holds every rule, one a file.
package catalogue

import "gapwise/rules/rule"

// All lists the rules in the order they are documented: by what they are about, then by name.
func All() []*rule.Rule {
	return []*rule.Rule{
		// Topology and polarity
		&legToLegShort, &feederCrossed, &plugFitsBothWays, &gapPolarityMismatch,
		&frogShortsWhenSet, &contactsShortInPassing, &legBackFed, &crossingFrogsConflict, &frogDead,
		&turntableCrossesPolarity, &turntableBridgeDead,
		&loopUngapped, &loopGapOneRail, &loopGapMissingEnd,
		&reverserMissing, &reversingSectionShort, &reversingSectionsTouch, &secondTrainAtReversingSection, &gapsBridgedTogether, &reversingGapWeaklyFed, &reverserTripsLate,
		// Districts and their sources
		&gapMissingBetweenDistricts, &gapOneRail, &gapStaggered,
		&boostersInParallel, &boostersOutOfPhase, &boostersDifferInVolts, &boostersWithoutCommonReference, &commandStationsMeet,
		&breakersOpenDifferentLegs, &busClosedRing,
		&changeoverTiesSources, &changeoverLegStays, &cabMeetsDCC, &programmingTrackJoined, &sourceFeedsNothing,
		// Feeding
		&railDead, &railOneLegOnly, &feederMissingAtTurnoutSide, &feederMissingAtExpansionGap,
		&railLengthWithoutFeeder, &feederSpacing, &feederTooLong, &feederTooThin, &onlyOneFeeder,
		// Blocks and detection
		&detectorBypassed, &detectorOnWrongLeg, &railSharedByDetectors,
		&detectorDiffersFromMeant, &detectorSeesMoreThanItsBlock, &detectorSeesNothing, &railUnwatched, &detectorBypassedWhenSet,
		&falseOccupancy, &wheelsetNotSeen, &detectorDropUneven,
		&blockDiffersFromMeant, &blockUndeclared, &blockShorterThanTrain,
		&sidingsNotInsulated, &turnoutOutsideMainBlock, &helixNotApart,
		// Gaps and movement
		&gapUnfilled, &gapInLooseTrack, &gapBeyondFoulingPoint, &gapShortOfFoulingPoint, &foulingPointUnwatched,
		&expansionGapMissing, &expansionGapOffCentre, &expansionGapPartsDistricts, &gapMayClose,
		&trackEndConducts, &liftOutApproachLive,
		// Power
		&shortTooWeakToTrip, &shortTooWeakUnderDCC, &wireHotBeforeTrip, &wireEnergyLetThrough,
		&busDrop, &feederDrop, &railDrop, &busRinging,
		&householdMains, &sourceExceedsLimitedPower,
		&breakerNotBeforeBooster, &districtOverloaded, &breakerTripsAtInrush, &supplyUndersized, &boosterVoltsOutOfRange,
		// The layout file
		&acceptanceStale,
	}
}

// ByID finds a rule; nil when there is none of that name.
func ByID(id string) *rule.Rule {
	for _, r := range All() {
		if r.ID == id {
			return r
		}
	}
	return nil
}
