"""Word lists of plain English, as far as the rules of writing need them to tell one kind of word from another.

The closed classes are whole. The open ones hold what workshop prose uses besides the words of the catalogue; a word
in no list is not guessed at, so that a rule stays silent rather than cry wolf.
"""

from __future__ import annotations


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


DETERMINERS = _words(
    "the a an this that these those each every all both some any no another either neither its your his her their our "
    "my whose which such same one two three four five six seven eight nine ten twelve half several many few more most "
    "less least enough"
)
ARTICLES = _words("the a an this that these those each every all both some any no another either neither its your our")
PRONOUNS = _words(
    "it them they you we he she i itself themselves yourself something nothing everything anything somebody nobody "
    "anybody everybody others"
)
PREPOSITIONS = _words(
    "of in on at by for with from to into onto through between against along round around across over under above "
    "below behind before after during without within near off out up down past toward towards beside besides inside "
    "outside until as per than like about beyond opposite upon among except"
)
SUBORDINATORS = _words(
    "that which who whom whose if when while until unless because where whether since although though once whenever "
    "wherever how what why"
)
# Words that open a subordinate clause where a clause follows them, and a phrase where a noun does.
CLAUSE_OR_PHRASE = _words("before after until as since so than")
MODALS = _words("can could may might must shall should will would cannot ought")
BE = _words("is are was were be been being am isn't aren't wasn't weren't")
HAVE = _words("has have had having")
DO = _words("do does did")
ADVERBS = _words(
    "not never always only also again now then fully there here too very quite almost just still already together "
    "apart away back clockwise anticlockwise upward upwards downward downwards forward forwards backward backwards "
    "inward outward sideways even ever far farther further first last later less long longer more most much often "
    "once perhaps rather so soon straight twice well yet otherwise instead else alone ahead aside alike enough"
)
# Words in -ly that are no adverbs.
NOT_ADVERBS = _words("assembly subassembly supply fly family ply reply only early likely friendly daily multiply apply")
ADJECTIVES = _words(
    "able acceptable accurate additional adjacent bad bare bent big bigger blunt brittle broad broken careful central "
    "certain clear clockwise coarse cold conical cool correct corroded cracked crooked damaged damp dangerous deep "
    "deeper different difficult direct dirty distinct dry dull easy electric electronic empty equal even exact extra "
    "fast final fine firm fixed flat flexible free fresh front full good great greater greatest half hard harder "
    "heavy heavier high higher highest hollow hot hydraulic important inner large larger largest last late left light "
    "lighter little long longer longest loose lose low lower lowest main metal metric mild minimum maximum missing "
    "narrow narrower near necessary new next normal odd oily old older only open opposite original other outer "
    "outside own parallel plain plastic poor positive possible precise private proper quick quiet ready real rear red "
    "right rigid rough round rusty safe sealed second separate serious shallow sharp short shorter shortest side "
    "similar simple single slack slight slow small smaller smallest smooth soft solid special square steady steep "
    "sticky stiff straight strong stuck sudden suitable sure tall taut thick thicker thin thinner third threaded "
    "tight tighter true typical unequal uneven unknown upper usual vertical warm weak wet whole wide wider widest "
    "worn wrong clean bright black white blue green yellow grey splined toothed tubeless threadless suspended "
    "compatible complete drive-side non-drive-side left-hand right-hand hand-tight zero average safety-critical "
    "hidden compressed"
)
# Adjectives that are verbs of the workshop too.
ADJECTIVE_OR_VERB = _words("clean open close dry lower set free cut level square clear empty bare true slack worn bent")
# Nouns besides those of the catalogue's own names.
NOUNS = _words(
    "accident act action adaptor adhesive adjuster adjustment advice air alcohol alignment aluminium amount angle "
    "area arm arrow assembly attention axis back bag balance ball band bar base basket bead bearing bed bell belt "
    "bench bend bike bin bit blade blister block blood board body bolt bore boss bottle bottom box bracket brand "
    "brush bubble bulge bump bush bushing butt cable cage calliper caliper can cap capacity car carbon card care "
    "cartridge case catch cause centre centring chain chance change channel charge charger chart circle circlip "
    "circumference clamp class claw cleaner clearance click clip clockwise clothes cloth clothing coat coating code "
    "coil collar colour condition cone connection connector contact container control copper cord corner corrosion "
    "cotter counter cover crack crank crash creak crown cup current curve cut cutter cycle damage damper danger date "
    "day degreaser degree depth device diameter difference direction dirt disc display distance dollar door drag "
    "drawing drill drive drop drum dust dye ear edge edges effect effort elbow electricity end energy engagement "
    "entry equipment error example eye eyelet eyes face factor fault feel felt fibre figure file filler film finger "
    "fire fitting fixing flag flame flange flap flash flat floor flow fluid flush foam foot force fork form formula "
    "fracture frame friction front fuel function funnel gap gauge gear gears gel glove gloves glue grade gradient "
    "grease grip groove ground grub guard guide half hammer hand handle hanger hardware harm head heat height helmet "
    "helper hex hexagon hill hinge hold holder hole hook hoop hose hour housing hub hubs hydraulics impact inch "
    "indicator information injury insert inspection instruction interval iron item jack jaw jerk job joint key kind "
    "kit knob knock knurl label lamp law layer lead leak leakage left length level lever life lift light lightning "
    "limit line liner lip liquid list load lock location loop loss lubricant lug machine magnet maker mallet manner "
    "manual manufacturer margin mark marking mask mass master material matter mechanic mechanism member memory metal "
    "method middle millimetre mineral minute mirror model module moisture moment money motion motor mount mouth "
    "movement mud muscle nail name neck needle newton nick nipple noise nose notch number nut o-ring oil opening "
    "operation order orientation oil-level outlet output overlap owner pace pack pad page pain paint pair palm pan "
    "panel paper part particle paste path patch pattern pawl peg pen people performance person pile pin pipe piston "
    "pitch pivot place plan plane plate play pliers plug point pole pool port position post powder power practice "
    "preload pressure principle problem procedure product profile proof protection protractor pull pulley pump "
    "puncture purpose push quality quantity question rack radius rag rail rain range ratchet rate ratio reach "
    "reaction reading reason rebound record reference release remainder repair reservoir resin resistance rest result "
    "return reverse ride rider right rim ring risk rivet road rod roller room rope rotation rotor row rub rubber rule "
    "run rust saddle safety sag sand scale scratch screen screw screwdriver seal sealant seat second section sequence "
    "series service set setting shaft shape shell shift shim shock shop shoulder side sign signal size skewer skin "
    "slack sleeve slide slot smell smoke snap soap socket solution sound source space spacing spanner spare spark "
    "speed spider spill spin spindle spiral splash spoke spot spray spring spud square stack staff stage stain stair "
    "stamp stand standard star start state stay steam steel steerer stem step sticker stock stop storage strand strap "
    "strength stress strip stroke structure stub stud substance suitcase supply support surface suspension swarf "
    "switch symbol syringe system tab table tag tail talc tang tank tape taper task technique teeth temperature "
    "tension term test thickness thing thread threadlock threads thumb tie time tip tolerance tool tooth top torque "
    "touch towel track traction travel tread trim trouble truth tube tubing turn twist type tyre unit use user value "
    "valve vapour vehicle vent version vice view voltage volume walk wall warning washer waste water wax way wear "
    "weather web wedge week weight weld wheel whip width wind wing wire wood word work worker workshop wrench wrist "
    "year yoke zone bicycle mech jockey rivets cog spacers readings bearings braking steering lining casing washing "
    "lighting wiring"
)
# Nouns that name no countable thing, so that they stand without an article.
MASS_NOUNS = _words(
    "air alcohol aluminium assembly-paste attention carbon care chalk cleaner clothing contact corrosion damage dirt "
    "dust effort electricity energy engagement equipment fluid foam force friction grease hardware harm heat help "
    "hydraulics information iron light load lubricant material metal moisture movement mud oil paint paper paste play "
    "power practice preload pressure protection rain resin room rubber rust safety sand sealant slack smoke soap "
    "solvent space steel swarf talc tension threadlock threadlocker time tissue titanium torque traction travel wear "
    "water wax wood work cardboard wind leakage fat sag backlash"
)
# Nouns that end in -ing. As verbs they still count: "by setting the gap".
ING_NOUNS = _words(
    "bearing walking spring ring chainring lockring housing fitting bushing coating mounting o-ring string thing "
    "nothing something anything everything during king wing sling swing evening morning ceiling reading setting "
    "opening marking lining casing meaning warning spacing wiring lighting steering braking shifting indexing "
    "tubing clothing winding seating crossing wheelbuilding building string-line gearing bracing"
)
# Words that end so by themselves: their -ing form is another one.
ENDS_IN_ING = _words("bring cling ring sling spring string swing wing wring")
# First words of names of things, with the words that they stand before.
ING_IN_NAMES = {
    "boiling": _words("point"),
    "retaining": _words("bolt clip pin ring screw"),
    "riding": _words("position"),
}
# Verbs of the workshop and of everyday instructions that the catalogue's list may or may not have.
COMMON_VERBS = _words(
    "accept access achieve activate actuate add adhere adjust advance affix agitate aim align allow alter analyse "
    "anchor answer appear apply arrange ascertain ask assemble assess assist assume assure attach attempt avoid back "
    "balance bed begin bend bind blow bolt bounce brace brake break bring brush buff build bump burn call cap carry "
    "catch cause cease centralise centre chalk change channel charge check choose clamp clean clear click clip close "
    "coat coil collect come compare complete compress confirm connect consider consult contact contaminate continue "
    "control cool correct count couple cover crank create crimp cross cure cut dab damage deburr decide deflate "
    "degrease deliver demand depress detach detect determine dial dip direct disassemble discard disconnect discover "
    "disengage dismantle dismount dispose dissolve divide do don drag drain draw drill drip drive drop dry ease eject "
    "elevate eliminate employ empty encourage engage enlarge ensure enter equalise establish estimate evaluate "
    "examine exchange exert expand expose extend extract face fasten feed feel file fill find finish fit fix flatten "
    "flex flip flush fold follow force form free gauge get give glue go grab grasp grease grind grip guide hammer "
    "hand handle hang hear heat help hit hoist hold hook identify ignore immerse improve inch include increase "
    "indicate inflate inform inject insert inspect install insulate isolate jam join keep knock label lace lay lead "
    "lean leave let level lever lift light limit line listen load locate lock look loosen lower lubricate maintain "
    "make manage mark match measure mend mind minimise mix modify monitor mount move multiply name neutralise note "
    "notice notify obey observe obtain offer oil open operate optimise order organise orient overhaul pack paint pass "
    "paste patch pedal peel perform phone pick pinch place plan plug plumb point polish pop position pour practise "
    "prefer prepare press prevent prime print proceed process produce protect provide prove pry pull pump punch purge "
    "push put quit raise reach read realign reassemble rebuild recheck recommend record rectify reduce refer refill "
    "refit refix refrain regrease reinstall reinsert reject relax release relieve relocate rely remember remount "
    "remove renew reorder repack repair repeat replace report reposition request require reset rest restore retain "
    "retighten retract return reuse reverse review revolve ride rinse roll rotate round route rub run sand save saw "
    "scrape screw scribe seal seat secure see seek seize select send separate sequence serve service set settle shake "
    "sharpen shift shim shine shoot shorten show shut sign sit slacken slide slip slot smear smooth snap snip soak "
    "solder sort space spin spray spread spring squash squeeze stand start stay steer step stick stop store "
    "straighten straddle stretch strike strip study submerge substitute subtract suggest supply support suspend swap "
    "sweep swing switch tack tag take tap tape target tell temper tension test thread throw tidy tie tighten tilt "
    "time toggle top torque touch trace transfer trap treat trim true try tuck tug turn twist unbolt unclip uncoil "
    "uncover undo unfasten unfold unhook uninstall unlock unload unpack unplug unscrew unseat unthread unwind unwrap "
    "update upgrade use utilise vacuum vary vent verify view visit wait walk warm warn wash watch wear weigh wet "
    "wheel wiggle wind wipe withdraw wobble work wrap write yank zero"
)
IRREGULAR_PARTICIPLES = {
    "bend": "bent", "bind": "bound", "blow": "blown", "break": "broken", "bring": "brought", "build": "built",
    "catch": "caught", "choose": "chosen", "come": "come", "cut": "cut", "do": "done", "draw": "drawn",
    "drive": "driven", "feed": "fed", "feel": "felt", "find": "found", "fit": "fitted", "fly": "flown",
    "forget": "forgotten", "get": "got", "give": "given", "go": "gone", "grind": "ground", "hang": "hung",
    "hear": "heard", "hit": "hit", "hold": "held", "keep": "kept", "lay": "laid", "lead": "led", "leave": "left",
    "let": "let", "light": "lit", "lose": "lost", "make": "made", "mean": "meant", "put": "put", "read": "read",
    "ride": "ridden", "run": "run", "see": "seen", "send": "sent", "set": "set", "shake": "shaken", "shut": "shut",
    "sit": "sat", "slide": "slid", "spin": "spun", "split": "split", "spread": "spread", "stick": "stuck",
    "strike": "struck", "sweep": "swept", "swing": "swung", "take": "taken", "tell": "told", "throw": "thrown",
    "undo": "undone", "wear": "worn", "wind": "wound", "withdraw": "withdrawn", "write": "written",
}  # fmt: skip
# Words in -ed that are no participles.
NOT_PARTICIPLES = _words("need speed feed bed seed red shed bleed exceed proceed succeed indeed weed reed embed sled")
