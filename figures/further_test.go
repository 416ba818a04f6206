package figures

const noWordInPlace = "a foot that takes its weight again where it stood is worded as one that closes"

var americanDifferences = []chartDifference{
	{"Balance Steps", Leader, 3, "direction", noWordInPlace},
	{"Balance Steps", Leader, 6, "direction", noWordInPlace},
	{"Balance Steps", Follower, 3, "direction", noWordInPlace},
	{"Balance Steps", Follower, 6, "direction", noWordInPlace},
	{"Side Whisks", Leader, 3, "direction", noWordInPlace},
	{"Side Whisks", Leader, 6, "direction", noWordInPlace},
	{"Side Whisks", Follower, 3, "direction", noWordInPlace},
	{"Side Whisks", Follower, 6, "direction", noWordInPlace},
	{"In and Out Runs", Follower, 6, "direction", "the change to promenade swings her sideways"},
	{"Open Twinkle", Follower, 3, "direction", "the change to promenade swings her sideways"},
	{"Turning Twinkle Left", Follower, 2, "direction", "both turn about the couple's centre, which takes her back"},
}

const (
	fallawayBack = "in fallaway each travels 1/8 off the own back, between the two alignments, as in promenade each travels 1/8 off the own front"
	sideLeading  = "a step back with the side leading is worded as back"
	lockPivot    = "the follower would have to turn 1/2 on the fourth step, over the limit of an ordinary step, so 1/8 is a pivot at the end of the third"
)

var internationalDifferences = []chartDifference{
	{"Open Impetus (at a corner)", Follower, 3, "direction", "as the figure's own third step, with less turn behind her: the side step comes out nearer to the back"},
	{"Open Telemark (from line of dance)", Follower, 3, "direction", "as in the usual Open Telemark"},
	{"Back Whisk", Leader, 2, "direction", "the couple moves as one: nearer to the back for him would take her nearer to forward than to the side"},
	{"Bounce Fallaway with Weave Ending", Leader, 3, "direction", fallawayBack},
	{"Bounce Fallaway with Weave Ending", Follower, 3, "direction", fallawayBack},
	{"Curved Feather (from promenade)", Follower, 3, "direction", "on the inside of the curve, a short step; the new hold is further to her left, which takes it across"},
	{"Fallaway Natural Turn", Follower, 2, "direction", "she passes through between his feet; 22 degrees across counts as forward"},
	{"Fallaway Natural Turn", Follower, 3, "direction", fallawayBack + ", and she still turns"},
	{"Fallaway Reverse and Slip Pivot", Leader, 3, "direction", fallawayBack},
	{"Fallaway Reverse and Slip Pivot", Follower, 3, "direction", fallawayBack},
	{"Hover Corté", Follower, 3, "direction", "the couple takes the weight back as one: his side and slightly back is her side"},
	{"Left Whisk", Follower, 3, "direction", "her back step in contra body movement is more than 24 degrees across"},
	{"Running Finish", Follower, 3, "direction", sideLeading},
	{"Running Finish (to diagonal to centre)", Follower, 3, "direction", sideLeading},
	{"Running Spin Turn", Leader, 7, "direction", "the hold changes to outside under way, which takes him 0.11 m to his left as the right foot goes back"},
	{"Running Spin Turn (to backing line of dance)", Leader, 7, "direction", sideLeading},
	{"Running Spin Turn (to backing line of dance)", Follower, 6, "direction", "3/8 in half a beat is made about the couple's centre; she is carried forward"},
	{"Turning Lock to Right", Leader, 3, "direction", "a small step between her feet, under 0.2 m of body travel"},
	{"Turning Lock to Right", Leader, 3, "turn", lockPivot},
	{"Turning Lock to Right", Leader, 4, "turn", lockPivot},
	{"Turning Lock to Right", Follower, 3, "turn", lockPivot},
	{"Turning Lock to Right", Follower, 4, "turn", lockPivot},
}
