"""What a whole line of a conversation can be, told by its words: a question about the reading, "no, for the other", thanks.

Only patterns stand here; what comes of such a line is told where its kind is.
"""

from __future__ import annotations

import re

#: "is that dug in or new?": how it was read stands with the answer
ABOUT_READING = re.compile(r"^\W*(?:so |and )?(?:(?:is|are|was|were) (?:that|it|this|these|those|they)\b(?!.*\b(?:enough|too|ok|okay|safe)\b).*\bor\b|did you (?:mean|take|read|count|include|assume|use)\b)", re.I)
#: "there are 8 big ones", among plants or pots that were told without it
SOME_ONES = re.compile(r"\b(?:\d+|two|three|four|five|six|seven|eight|nine|ten) (?:big|small|large|little|long|short|wide|old|young|new|tall|bigger|smaller|larger) ones\b", re.I)
#: "same for both"
SAME_FOR_ALL = re.compile(r"^\W*(?:and )?(?:the )?same (?:for|with|on|at) (?:both|all|all of them|them all|the others|each|every one)(?: of them)?\W*$", re.I)
#: Asked of what there is: how much too little or too much it is stands with the answer
SHORT_OR_OVER = re.compile(r"^\W*(?:so |and )?(?:how (?:much|many|far) (?:am i |are we |is it |is that )?(?:short|over|left|missing|spare|extra|to spare)|how short|how much (?:will|would) (?:be|i have) left|what'?s (?:missing|left|short)|what is (?:missing|left))\b", re.I)
#: "no, for the peppers": what was changed last is meant for another place
NO_THAT = re.compile(r"^\W*(?:no|nope|wait|sorry|oops)\b(?:\s*[,.!]\s*(?:i meant? |for |on |it'?s for )?|\s+(?:i meant? |for |on |it'?s for ))", re.I)
#: "per tub?", "each?"
PER_ONE = re.compile(r"^\W*(?:and |so |ok )?(?:how much (?:(?:is|would) (?:that|it) (?:be )?)?|what(?:['’]s| is| would| does)? (?:that|it)(?: be| come to| make)? )?(?:per|for each|for one|in each)(?: (?:single )?(?:one|bed|tub|pot|bucket|planter|box|container|plot|row|basket|barrel|tray|trough|(?:grow |fabric )?bag|half barrel))\W*$"
                     r"|^\W*(?:and |so |ok )?how much (?:is (?:it |that )?|would (?:it|that) be )?(?:for )?(?:just |only )one(?: of (?:them|those|these))?\W*$", re.I)
#: "what was the first answer"
FIRST_ANSWER = re.compile(r"\bwhat (?:was|were) (?:the|my|your|that) (first|last|previous|earlier) (?:answer|figure|one|number|amount)\b|\b(first|previous|last) answer again\b", re.I)
#: how a share is meant
BY_VOLUME = re.compile(r"\bby (?:the )?volume\b", re.I)
#: "wait, wrong bed"
WRONG_ONE = re.compile(r"\bwrong (?:one|bed|pot|pots|lawn|place|plot|row|tub|plants?)\b|\bnot that (?:one|bed|pot|lawn|row)\b", re.I)
#: "what's that in gallons?"
IN_UNITS = re.compile(r"\b(?:that|it|this|those|these|they)\b.*\bin\s|^\W*(?:and |so )?in\s", re.I)
#: one of several, by "the other"
OTHER_ONE = re.compile(r"\b(?:the other|one of (?:them|those))\b", re.I)
#: "the small one": one of several places by how big it is
SIZED_ONE = re.compile(r"\b(?:small|smaller|big|bigger|large|larger|long|longer|short|shorter|other)\s+(?:one|bed|row|pot|plot|lawn)\b", re.I)
#: Words that mean every line of the order, and not the places of one.
EVERYTHING = re.compile(r"\b(?:everything|for the lot|the whole order|across all|grand total|for all(?: of (?:it|them|this|that))?)\b", re.I)
#: no more than that
YES_OR_NO = re.compile(r"^\W*(?:yes|yep|yeah|no|nope|nah)\W*$", re.I)
#: What was spoken of last, without its name: "take that off again".
THAT = re.compile(r"\b(?:that|it|this|them|those|these)\b", re.I)
#: "never mind", "forget it": what stands is wanted no more
NEVER_MIND = re.compile(
    r"^\W*(?:(?:oh|ok|okay|no|actually|ah|sorry|well|wait|hmm|you know what|then|just|please)\W+)*(?:never ?mind|nvm|nevermind|forget (?:it|about it|about that|that one)|don'?t bother|leave it be|let'?s forget it|cancel that(?: one)?)"
    r"(?:\W+(?:then|now|thanks|thank you|please|for now|sorry|all of it|after all))*\W*$", re.I)
#: What is only supposed: "what if it were 15 inches deep", "and at 12 %?"
SUPPOSED = re.compile(r"^\W*(?:(?:and|so|ok|but|hm+)\W+)*(?:what if|what about|how about|if (?:i|we|it|they|that)\b|suppose|supposing|say (?:i|we|it)|imagine|what would|how much would|would)|\?\s*$", re.I)
#: After it, that nothing of it is to hold: "no, leave it", "never mind"
AS_IT_WAS = re.compile(
    r"^\W*(?:(?:no|nah|nope|ok|hm+|actually|well|oh)\W+)*(?:(?:never ?mind|forget it|forget that|leave it|leave that|leave it be|leave it alone|leave it at that|don'?t bother|not worth it|scrap that|no change)"
    r"|(?:leave|keep|stick with|stay with) (?:it|that|what (?:i|we) (?:had|have))(?: as (?:it|that) (?:was|is)| the same| (?:as )?before)?)(?: then| thanks)?\W*$", re.I)
#: Asked of packs: what they leave over stands with the answer
LEFT_OF_PACKS = re.compile(r"^\W*(?:so |and |ok )?(?:how much|what|anything|is there anything|any)\b[^.;]*\b(?:left over|left|over|spare|to spare|leftover|leftovers|remain(?:s|ing)?)\W*$", re.I)
