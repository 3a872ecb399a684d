"""Denials that deny something else."""

TEXT = r"""
no ~1 reason|idea|wonder|doubt|joke|time|lie|surprise|way|cap|problem|energy|sleep|food|breakfast|
    belt|coffee|warmup
not|wasnt|wasn't|isnt|isn't|dont|don't|doesnt|doesn't|didnt|didn't feel|feeling|quite|looking|sit|
    sitting right
not ~1 gonna|going lie|to_lie
cant|can't|cannot lie
nothing ~1 else|to|on|changed|but|except
from|for|doing|after|on|at|over|with|by nothing
not only|just|sure|quite|alone|even|too|that|so|very|as|yet|really|unlike|merely|certain|simply
wasnt|wasn't|isnt|isn't|aint|ain't|didnt|didn't|dont|don't just|only|sure|even|too|that|so|as
never ~2 like|had|felt|known|experienced this|that|it|such|so
never|not|didnt|didn't|havent|haven't ~6 like this|that|it
never|not|havent|haven't|hasnt|hasn't ~5 before
never been|felt|had so|this|that|as|more|worse
never that|this|so|more|worse|stops|stopped|ends
no more|longer|less|end
not without|nothing
never without
not ~1 been without
cant|can't|cannot|couldnt|couldn't|wont|won't say|pretend|claim|deny|ignore|shake|hide
not to mention|ignore
not stopping|better|gone|going_away|improving|easing|settling|clearing|ideal|great|good|nice|
    normal
didnt|didn't|doesnt|doesn't|hasnt|hasn't|not|never|wont|won't|wouldnt|wouldn't|couldnt|couldn't|
    cant|can't stop|stopped|go|gone|ease|eased|
    clear|cleared|settle|settled|leave|left|improve|improved|help|helped
not ~2 goes|gone away
dont|don't know|think|like|get
"""[1:]
