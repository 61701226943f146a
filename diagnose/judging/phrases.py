"""The sentences of a comment, several to each purpose, so that no two sheets of a class need sound alike.

`{piece}` is what the scorecard calls an entry; the other names in braces are filled from the plan of the comment.
"""

from __future__ import annotations

GOOD_TWO = (
    "The judges liked {a} and {b}.",
    "Praise first: {a}, and {b}.",
    "Much was right here: {a}, and {b}.",
    "There was a lot to like: {a}, and {b}.",
    "Good work showed in {a} and {b}.",
    "Well above the middle of the scale were {a} and {b}.",
    "A word of praise for {a} and {b}.",
    "Credit is due for {a} and {b}.",
    "What stood out was {a}, and with it {b}.",
    "This {piece} won points for {a} and {b}.",
    "The good first: {a}, and {b}.",
    "The strength of this {piece} was {a}, together with {b}.",
    "The sheets speak well of {a} and {b}.",
    "Full or nearly full points went to {a} and {b}.",
    "On the good side were {a} and {b}.",
    "Readily given were the points for {a} and {b}.",
    "Two things were done well: {a}, and {b}.",
    "First, the pleasant part: {a}, and {b}.",
    "High marks were given for {a} and for {b}.",
    "This entry was at its best in {a} and {b}.",
)
GOOD_ONE = (
    "The judges liked {a}.",
    "Praise first, for {a}.",
    "Credit is due for {a}.",
    "What stood out was {a}.",
    "To begin with the good: {a}.",
    "The sheets speak well of {a}.",
    "The strong side of this {piece} was {a}.",
    "Good points were given for {a}.",
    "One thing was plainly right: {a}.",
    "Readily given were the points for {a}.",
)
GOOD_MORE = (
    "There was praise for {a}, too.",
    "Well scored besides: {a}.",
    "Added to that came {a}.",
    "Nor should {a} go unsaid.",
    "High points went to {a} as well.",
    "The same can be said of {a}.",
)
BEST_OF_REST = (
    "It did best in {criterion}, with {share} of the points.",
    "Its strongest part was {criterion}, at {share} of the points.",
    "{criterion} held up best, at {share} of the points.",
    "The largest share of points, {share}, went to {criterion}.",
)
FAULTS = (
    "It lost points for {list}.",
    "The main deduction was for {list}.",
    "What cost it most was {list}.",
    "Held against it: {list}.",
    "It was marked down for {list}.",
    "Where it fell short: {list}.",
    "Points were taken off for {list}.",
    "Less good was {list}.",
    "A better place was lost through {list}.",
    "The sheets note {list}.",
    "What the judges missed points for was {list}.",
    "Not so good: {list}.",
    "It was held back by {list}.",
    "Against that stood {list}.",
    "The judges put down {list}.",
    "What stood in its way was {list}.",
    "There is one thing to work on: {list}.",
    "Seen on the day: {list}.",
)
FAULTS_MANY = tuple(one for one in FAULTS if "one thing" not in one)
DETAIL = (
    "Seen with it: {list}.",
    "The judges also noted this: {list}.",
    "Also to be seen: {list}.",
    "What also showed: {list}.",
    "A closer look showed this: {list}.",
    "One more thing was seen: {list}.",
    "The sheets add: {list}.",
    "This may help to find the cause: {list}.",
)
SINGLE = (
    "One of the {count} judges also put down {say}.",
    "A single judge noted {say} as well.",
    "{say}, seen by one judge of {count}, is told for completeness.",
)
ONE_LIKELY = (
    "The {piece} itself makes one cause {word}: {a}.",
    "From what was seen, one cause is {word}: {a}.",
    "One cause fits, and it is {word}: {a}.",
    "It is {word} that this lies behind it: {a}.",
    "What was seen points one way, and that is {word}: {a}.",
    "Here one cause is {word}: {a}.",
)
ONE_EVEN = (
    "One cause is about as likely as not: {a}.",
    "Of all causes this fits best, though it is only about as likely as not: {a}.",
    "It may well be this, about as likely as not: {a}.",
    "This could be the cause, about as likely as not: {a}.",
    "The best fit, about as likely as not, is this: {a}.",
    "Look first at one cause, which is about as likely as not: {a}.",
)
ONE_WEAK = (
    "The first thing to look at, though unlikely taken alone, is this: {a}.",
    "No cause stands out; what fits best, yet is unlikely by itself, is this: {a}.",
    "A look at the {piece} cannot settle why; one thing to rule out first, unlikely as it is: {a}.",
    "Many things can do this, each unlikely alone; foremost among them: {a}.",
    "The cause stays open; leading a long list, and still unlikely, is this: {a}.",
    "Why it came is not shown; ahead of the others, though itself unlikely: {a}.",
    "If one cause has to be checked first, it is this one, unlikely though it is: {a}.",
)
TWO_EVEN = (
    "Two causes compete, the first of them about as likely as not: {a}; or {b}.",
    "It is between two, and the first is about as likely as not: {a}; or {b}.",
    "Either of two could have done it, the first about as likely as not: {a}; or {b}.",
    "Two explanations remain, of which the first is about as likely as not: {a}; or {b}.",
)
TWO_WEAK = (
    "Two causes fit best, though each alone is unlikely: {a}; or {b}.",
    "There are two candidates, neither of them likely by itself: {a}; or {b}.",
    "The {piece} leaves two candidates, each unlikely taken singly: {a}; or {b}.",
    "Of many causes two come first, both unlikely when taken alone: {a}; or {b}.",
    "Look at two things before all others, though each is unlikely by itself: {a}; or {b}.",
    "Two ways to this are worth ruling out, unlikely as each is alone: {a}; or {b}.",
    "What was seen fits two causes about best, and neither firmly (each unlikely): {a}; or {b}.",
    "A judge can name two possible causes, each unlikely on its own: {a}; or {b}.",
)
BEGIN_TWO = (
    "The {piece} alone does not show the cause; two places to begin looking: {a}; or {b}.",
    "What did it cannot be read from the {piece}; among many possible causes are these: {a}; or {b}.",
    "Too many causes end in this for a judge to choose; two of them: {a}; or {b}.",
    "Nothing on the {piece} tells the causes apart; start with these, on no strong ground: {a}; or {b}.",
    "No single cause can be named from the outside of the process; two that would fit: {a}; or {b}.",
    "A judge cannot say what led to this; possible, among others: {a}; or {b}.",
)
BEGIN_ONE = (
    "The {piece} alone does not show the cause; one place to begin looking: {a}.",
    "What did it cannot be read from the {piece}; one of many possible causes: {a}.",
)
FIRST_OF = {
    1: (
        "Behind the first of these: ",
        "As for the first: ",
        "On the first point: ",
        "For the first of them: ",
        "To take the first: ",
        "What led to the first? ",
        "Of the first it can be said: ",
        "The first, then: ",
    ),
    2: (
        "Behind the first two: ",
        "As for the first two: ",
        "To take the first two together: ",
        "Of those two it can be said: ",
    ),
}
NOT_KNOWN_ONE = (
    "If so, it happened before the meat reached you, and you could not have known.",
    "If that was it, it came about before your door, where no maker could have seen it.",
    "Should that be it, nobody who makes {pieces} could have known.",
    "If it was that, it came with the animal, and you could not have known of it.",
)
NOT_KNOWN_BOTH = (
    "If it was one of these, it happened before the meat reached you, and you could not have known.",
    "Should it be either of them, it lies before your door, where no maker could have seen it.",
    "If one of the two did it, it came with the animal, and the maker could not have known.",
    "If either was the cause, it came before your part of the work and could not be known there.",
)
OR_ELSE = (
    "It may also have been something else.",
    "Other causes are possible.",
    "Neither is proved; something later may have done it.",
    "Another cause is not ruled out.",
)
NOT_KNOWN_PART = (
    "The {which} of these could not have been known to you.",
    "Of the {which} you could not have known.",
    "No maker could have known of the {which}.",
)
NO_SIGN = (
    "The outside gave no sign of it.",
    "Nothing outside gave it away.",
    "It could not be seen before the cut.",
    "Until the {piece} was cut, nothing showed.",
)
DO = (
    "Worth a try: {do}",
    "Next time: {do}",
    "One thing to change: {do}",
    "A step that would help against it: {do}",
    "To try on a few pieces first: {do}",
    "Our suggestion: {do}",
    "Where to start: {do}",
    "In the next batch: {do}",
    "Try this: {do}",
    "A trial to make: {do}",
    "For the coming lot: {do}",
    "It may pay to do this: {do}",
    "As a first move: {do}",
    "What could help: {do}",
    "Something to do about it: {do}",
    "One possible change: {do}",
    "Before the next show: {do}",
    "When you make the next ones: {do}",
    "A change worth the work: {do}",
    "Here is one remedy: {do}",
    "What to change: {do}",
    "A thing to try: {do}",
    "A good beginning: {do}",
    "Set about it like this: {do}",
)
DO_MORE = (
    "And also: {do}",
    "Then: {do}",
    "Or: {do}",
    "Besides: {do}",
    "After that: {do}",
    "Another way: {do}",
    "A second step: {do}",
    "Further: {do}",
    "If that is done already: {do}",
    "Along with it: {do}",
    "Next to that: {do}",
    "In addition: {do}",
    "Failing that: {do}",
    "Later on: {do}",
    "As a second thought: {do}",
    "Once that is done: {do}",
)
SUPPLIER = (
    "With your supplier: {do}",
    "Something to agree with whoever sells you the meat: {do}",
    "At the buying end: {do}",
    "To settle with the slaughterhouse: {do}",
)
IF_SO = (
    "If so: {do}",
    "If that is it: {do}",
    "If yes: {do}",
    "Should it be so: {do}",
    "Where the answer is yes: {do}",
    "If you find it so: {do}",
    "If it turns out so: {do}",
    "Then, if yes: {do}",
    "If that proves right: {do}",
    "Only if it is so: {do}",
)
OTHER = (
    "For the {nth}, begin here: {a}.",
    "The {nth} has many possible causes; one to check: {a}.",
    "As to the {nth}, look first at this: {a}.",
    "What to check for the {nth}: {a}.",
    "One possible cause of the {nth}: {a}.",
    "The {nth} may come from this: {a}.",
    "To begin with on the {nth}: {a}.",
)
OTHER_DO = (
    "For the {nth}: {do}",
    "Against the {nth}: {do}",
    "What to try for the {nth}: {do}",
    "As to the {nth}: {do}",
    "On the {nth}: {do}",
)
OTHER_ASK = (
    "About the {nth}, please ask the judges.",
    "The sheets give no cause for the {nth}; do ask.",
    "The {nth} has no cause named here; ask the judges about it.",
)
NO_ROOM = (
    "There is no room here for the rest; please ask the judges about it.",
    "About the other faults, please ask the judges.",
    "The judges can say more of what else was marked.",
    "What else was marked is on the back; ask about it.",
)
UNMARKED = (
    "No fault was marked for {criterion}, yet it had only {share} of the points; ask the judges why.",
    "The judges gave {criterion} only {share} of the points and marked no fault there, so do ask them.",
    "Ask also about {criterion}: {share} of the points, and no fault marked.",
)
CHECK = (
    "Worth a look: {do}",
    "First find this out: {do}",
    "Begin with a question: {do}",
    "The first thing to check: {do}",
    "See for yourself: {do}",
    "Please check this first: {do}",
    "To find out: {do}",
    "Look at this before you change anything: {do}",
    "A check to begin with: {do}",
    "This can be looked up: {do}",
    "A question to ask in the plant: {do}",
    "Check this at home: {do}",
    "Before changing anything, find out: {do}",
    "One thing you can see for yourself: {do}",
    "Ask yourself this: {do}",
)
CLEAN = (
    "No judge marked a fault on it.",
    "Not one fault was put down.",
    "The sheets carry no fault.",
    "All sheets are free of faults.",
)
WEAKEST = (
    "The smallest share of points, {share}, went to {criterion}; that is where more can be won.",
    "If anything is to gain, it is in {criterion}, which had {share} of its points.",
    "Next year's points lie in {criterion}, scored at {share} of what it can bring.",
    "With {share} of its points, {criterion} was the least of its parts.",
)
NOT_TASTED = (
    "The judges did not taste this {piece}, because of {list}.",
    "Because of {list}, nobody tasted this {piece}.",
    "This {piece} was set aside untasted, for {list}.",
)
NOT_TASTED_SOME = (
    "{count} saw {list}, and so nobody tasted it.",
    "It was not tasted, because of what was seen by some. {count} put down {list}.",
    "Nobody tasted this {piece}. {count} noted {list}.",
)
NOT_ALL_SAW_IT = (
    "Not every judge saw it; where there is doubt, the lot is held.",
    "The others did not mark it, but such a doubt is reason enough to hold the lot.",
    "The other sheets do not say so, yet the doubt alone is enough to wait for an answer.",
)
NOT_TASTED_WORDS = (
    "The judges did not taste this {piece}; a judge suspected it: {list}.",
    "Nobody tasted this {piece}, since one judge wrote: {list}.",
)
HOLD = (
    "Please hold its whole lot, let nobody taste it, and call your inspector or process authority (the expert who approves"
    " your heating and cooling) before any of it is sold.",
    "Keep the rest of the lot back, untasted, and talk today with the inspector or your process authority (the expert behind"
    " your heating and cooling), who will decide what becomes of it.",
    "Hold everything made with it, untasted, until the inspector or your process authority (the expert for your heating and"
    " cooling) has decided about the lot.",
)
LOOK_INTO = (
    "Have this looked into first: {a}.",
    "Ask the plant about this before all else: {a}.",
    "Where to look first: {a}.",
    "What to have checked at once: {a}.",
)
LOOK_INTO_IF = (
    "If that is so, have this looked into first: {a}.",
    "If it was seen rightly, look here first: {a}.",
    "Should they be right, this is the first thing to have checked: {a}.",
)
LOOK_INTO_TWO = (
    "Have these looked into first: {a}; and {b}.",
    "Ask about two things before all else: {a}; and {b}.",
    "Where to look first: {a}; and {b}.",
    "What to have checked at once: {a}; and {b}.",
)
NO_PROMISE = (
    "This sheet cannot say whether the rest is sound.",
    "What a judge smells or sees says nothing of the other pieces.",
    "A judge cannot tell whether other pieces are affected.",
)
OUT_OF_CLASS = (
    "This entry was not placed. The reason is one of class and says nothing of quality: {rule}.",
    "It could not be placed here, for a reason that is no verdict on the {piece}: {rule}.",
    "No place could be given in this class, as the rule has it: {rule}.",
)
NOT_SCORED = (
    "It was not scored, so this sheet can say nothing of its quality. Please ask the superintendent which class it belongs to;"
    " it may be welcome there another time.",
    "No points were given, and none were taken off. The superintendent can tell you the class that suits it, and the rules that"
    " an entry in this one has to meet.",
    "The judges therefore did not score it. Ask the superintendent where such a piece can be shown, and read the"
    " rules of that class before the next show.",
)
