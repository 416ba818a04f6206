package figures

const faceTurn = "a step is worded halfway through its turn, and these turn away or back as the foot goes to the side"

var americanDifferences = []chartDifference{
	{"Face to Face and Back to Back", Leader, 2, "direction", faceTurn},
	{"Face to Face and Back to Back", Leader, 5, "direction", faceTurn},
	{"Face to Face and Back to Back", Follower, 2, "direction", faceTurn},
	{"Face to Face and Back to Back", Follower, 5, "direction", faceTurn},
	{"In and Out Runs", Follower, 6, "direction", "she turns 3/8 as she steps and is worded halfway through it, where the line of dance is at her side"},
	{"Underarm Turn Left", Follower, 1, "direction", "the leader comes forward, and the hand at arm's length lets her go only back as she begins to turn"},
}

const (
	sideLeading = "a step back with the side leading is worded as back"
	lockPivot   = "the follower would have to turn 1/2 on the fourth step, over the limit of an ordinary step, so 1/8 is a pivot at the end of the third"
)

var internationalDifferences = []chartDifference{
	{"Open Telemark (from line of dance)", Follower, 3, "direction", "as in the usual Open Telemark"},
	{"Back Whisk", Leader, 2, "direction", "the couple moves as one: nearer to the back for him would take her nearer to forward than to the side"},
	{"Fallaway Natural Turn", Follower, 2, "direction", "she passes through between his feet; 22 degrees across counts as forward"},
	{"Hover Corté", Follower, 3, "direction", "the couple takes the weight back as one: his side and slightly back is her side"},
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
