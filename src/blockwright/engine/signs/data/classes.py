"""Words by class, for the rules of warning signs."""

TEXT = r"""
bad: nasty scary scared horrible awful weird weirdly strange odd wrong worrying worried unpleasant
  funny unusual dodgy frightening alarming squeeze flutter thump hurting ouch concerning concerned
     iffy
# the body
chest: chest chests chestbone breastbone breast_bone sternum ribcage rib_cage thorax
bone: breastbone breast_bone sternum
ribs: ribs rib
heart: heart hearts heartbeat heart_beat heartbeats ticker pulse hr heartrate heart_rate
arm: arm arms forearm forearms hand hands elbow elbows
jaw: jaw jaws jawline teeth throat gums
neck: neck necks
hand: hand hands finger fingers fingertips fingertip thumb thumbs palm palms fist wrist wrists
  pinky pinkie little_finger
limb: arm arms leg legs hand hands foot feet finger fingers toe toes thumb thumbs face lip lips
  cheek thigh thighs shin shins forearm forearms calf calves fingertips wrist wrists pinky
  shoulder elbow knee side tongue mouth scalp heel heels sole soles glute buttock groin glutes hip
  back saddle
calf: calf calfs calve calves lower_leg lower_legs
one_calf: calf calfs calve lower_leg
muscle: arm arms leg legs thigh thighs quad quads forearm forearms bicep biceps triceps tricep
  muscle muscles shoulder shoulders hamstring hamstrings hammies ankle ankles foot feet hand hands
  fingers knee knees elbow elbows glute glutes lower_leg delts lats
part: shoulder shoulders elbow elbows knee knees hip hips wrist wrists back spine ankle ankles
  hamstring hamstrings hammy hammies groin quad quads glute glutes bicep biceps tricep triceps pec
  pecs lat lats neck trap traps delt delts achilles shin shins forearm forearms calf calves thigh
  thighs adductor adductors rib ribs abs ab stomach belly tendon patella kneecap foot feet
  toe toes thumb finger fingers hand hands arm arms leg legs heel oblique obliques rotator_cuff
  collarbone ac_joint si_joint shoulder_blade scap joint muscle lower_back chest tailbone coccyx
  buttock piriformis sciatic meniscus
eyes: eye eyes eyesight vision sight
head: head skull temple temples forehead
pee: bowl pee peed peeing wee weed weeing piss pissed pissing urine urin urinated urinating water
  pish
pee_only: pee peed peeing wee weed weeing piss pissed pissing urine urin urinated urinating toilet
  loo

# a plain pain with a number that training works round (Thomeé 1997's bands), and what makes it more
joint: shoulder shoulders elbow elbows knee knees kneecap hip hips wrist wrists ankle ankles back
  lower_back low_back upper_back thumb finger toe heel foot groin hamstring hammy quad adductor
  bicep biceps tricep triceps forearm trap glute achilles collarbone tendon patella
low: 1 2 3 4 5
more: gave gives giving locked locking hot red warm fever rest resting sitting lying walking stairs
  night bed down spread spreads spreading worse worst arm arms fingers toes calf calves sweating
  sick bruise bruised bruising huge tore torn broken dislocated

# what it does
pain: pain pains pained painful hurt hurts hurting hurty agony agonising agonizing excruciating
  discomfort uncomfortable pang pangs
ache: bruised prickle pulling drawing
  ache aches ached aching achey achy throb throbs throbbed throbbing cramp cramps cramped
  cramping sting stings stinging stung twinge twinges tender stitch twisting soreness niggle
  niggling nagging gnawing spasm spasms
burn: burn burns burned burnt burning burny fire
press: closing closed closes choking choked
  tight tightish grippy gripped gripping grabbing grabbed fullness brick_on rock_on plate_on
  anvil lump_in knot_in restricted restriction squashed squashing tightness tighten tightens
  tightened tightening pressure squeeze squeezes squeezed squeezing crushing crushed crush
  constricted constricting constriction heaviness vice vise elephant clamped clamp clamping
  weight_on sitting_on sat_on standing_on stood_on stamping_on compressed compression strangled
  band_round band_around band_across pinched pinching pinch
odd: unusual unpleasant scary worrying horrid uneasy alarming
  iffy weird weirdly odd oddly funny strange strangely wrong off dodgy dull peculiar horrible
  nasty awful bad
heavy: heavy lead leaden heaviness
sore: sore soreness sores
be: is was felt feels feel feeling went goes going gone got gets getting are were been stayed
  still turned became seemed seems looked looks looking 's kept keeps started starts has had came
  comes being be
very: so very really real all quite pretty bit a_bit a_little little kinda kind_of sort_of proper
  properly well super totally completely slightly mega dead rather a too extremely absolutely
  almost nearly just still suddenly sudden half both right left my the again like
up_down: up down into through along across to towards inside over from
good: good great nice lovely best class mint decent solid massive epic huge mad sick brilliant
  sweet insane wicked unreal

# breath
gasp: breathy breathing_hard_from
  suffocated suffocating suffocate panting panted pant puffed puffing huffing gasping gasped
  gasp wheezing wheezed wheeze wheezy winded breathless breathlessness puffed_out out_of_breath
  out_breath outta_breath out_of_puff blowing gassed sucking_wind sucking_air no_puff
  short_of_puff heaving puffing_and_panting short_winded hyperventilating
breath: breath breaths breathe breathed breathing air breather oxygen puff lungs breth lungful
  wind
kilos: 20 25 30 35 40 45 50 55 60 65 70 75 80 85 90 95 100 105 110 115 120 125 130 135 140 145 150
  155 160 165 170 175 180 185 190 195 200 22 24 28 32 36 48 20kg 25kg 30kg 35kg 40kg 45kg 50kg
  55kg 60kg 65kg 70kg 75kg 80kg 85kg 90kg 95kg 100kg 105kg 110kg 115kg 120kg 125kg 130kg 135kg
  140kg 145kg 150kg 155kg 160kg 165kg 170kg 175kg 180kg 185kg 190kg 195kg 200kg 22kg 24kg 28kg
  32kg 36kg 48kg
cannot: couldnt couldn't cant can't cannot could_not can_not not_able_to unable_to wasnt_able_to
  wasn't_able_to never_could wouldnt wouldn't would_not wont won't will_not barely hardly struggle
  struggles struggled struggling trouble difficulty hard difficult tough problems problem
  failed_to
no_effort: nothing rest resting rested sitting sat lying lay laying bed sofa couch desk walking
  walk walked stairs stair warm_up warmup warmups warm_ups warming warmed_up warmup_set empty_bar
  easy light lightest little_effort changing_plates loading bench_sitting talking tying asleep
  sleep sleeping night chair stood standing shoes shower dishes kettle minutes_later mins_later
  minutes mins min ten_minutes unusually unusual usual normal proportion no_reason weirdly never
  weird suddenly odd strange scary scared worrying worried should_be more_than way worse talk
  sentence woke barely dressed car not_like_me out_of_nowhere what_is_going_on whats_going_on
  plates bar hour hours stopped stop curls quickly fast easily early sudden still again all_day
  all_week scarily alarming
cough: cough coughs coughed coughing coughin hack hacked hacking hacked_up hacking_up coughing_fit
  coughed_up coughing_up cough_up throat_clear
blood: blood clot clots bloodstained bloodied bloody_phlegm bloody_spit bloody_mucus blood_streaked
  red_streaks

# faint
faint: blood_drained blood_rushed_from lost_a_few_seconds dont_remember_the don't_remember_the
  cant_remember_racking faint fainted fainting fainty faints feint feinted dizzy dizziness
  dizzyness dizzier diziness dizzying giddy giddiness woozy wooziness lightheaded light_headed
  lightheadedness light_headedness lite_headed litheaded vertigo syncope presyncope unconscious
  light_head headrush head_rush head_rushes funny_turn funny_turns faintness passed_out pass_out
  passing_out passes_out black_out blacked_out blacking_out blackout blackouts grey_out greyed_out
  greying_out gray_out grayed_out greyout grayout graying_out white_out whited_out whiting_out
  keel_over keeled_over keeling_over tunnel_vision saw_stars seeing_stars see_stars seen_stars
  lost_consciousness losing_consciousness lose_consciousness loss_of_consciousness lights_went_out
  sparklers cold_sweat cold_sweats clammy wobbly_head heady spaced_out spacey collapsed collapse
  collapsing swooned swoon conked_out zonked_out blanked_out out_cold
colour: grey gray black white dark dim blank fuzzy hazy foggy starry sparkly misty murky greyish
  ashen yellow
everything: all everything world room vision view lights sight eyes it mirror gym
spin: spin spins spinning spun spinny tilt tilted tilting tilts sway swayed swaying swimmy
  swimming swam swirl swirling floaty floating empty wobbly airy rushing whoozy
  whirling rotating moving faraway rushed cotton_wool reeling
place: head room world gym everything ceiling floor brain

# heart
beat: flip flips flipped race races raced racing pound pounds pounded pounding gallop gallops
  galloped galloping flutter flutters fluttered fluttering fluttery skip skips skipped skipping
  skippy thump thumps thumped thumping thud thuds thudding thudded hammer hammers hammered
  hammering irregular irregularly erratic erratically uneven unevenly jump jumps jumped jumping
  jumpy stutter stuttered stuttering bounding leaping leapt flip_flop flip_flops flip_flopping
  flipping somersault somersaults all_over_the_place all_over the_clappers mental crazy bonkers
  nuts haywire berserk wild bananas out_of_control miss_a_beat missed missing misses extra stopped
  stop out_of_rhythm rhythm wobble wobbled wobbling double_thump jackhammer drum drumming
  throbbing banging explode exploding exploded through_the_roof sky_high too_fast so_fast
  really_fast way_too_high way_up pause paused pauses lurch lurched lurching twitching quiver
  quivering quivered unsteady running_away runaway unstable dancing doing_funny
palp: arrythmia tachy palpitaitons palpatation palpitate heart_hiccup heart_hiccups palpitation
  palpitations palpitating palpatations palps arrhythmia arrhythmic afib a_fib atrial tachycardia
  ectopic ectopics flutters svt heart_flutters skipped_beat skipped_beats missed_beats missed_beat
  extra_beats extra_beat pvcs irregular_heartbeat irregular_pulse
rate: heart_rate heartrate hr pulse bpm
rate_bad: wouldnt_come_down wouldn't_come_down would_not_come_down wont_come_down won't_come_down
  didnt_come_down didn't_come_down never_came_down stayed_high stayed_up not_coming_down stuck
  shot_up spiked spiking spike rocketed would_not_settle wouldnt_settle wouldn't_settle
  wont_settle won't_settle wont_drop won't_drop wouldnt_drop wouldn't_drop didnt_drop didn't_drop
  at_rest resting sitting doing_nothing on_the_sofa dropped_to isnt_settling isn't_settling

# head and sight
headache: headache headaches head_ache head_aches headach hedache migraine migraines head_pain
  headpain brain_freeze
blur: doubled doubling swam
  blurry blurred blur blurring blury blurrier bleary double fuzzy hazy dim dimmed dimming
  cloudy misty patchy wavy shimmering shimmery zigzag zig_zag zigzags zig_zags spots floaters
  flashes flashing sparkles sparkly stars narrowed narrowing closing tunnel tunnelled went black
  grey gray dark funny weird odd strange jumpy lost losing loss gone half blind missing crossed
  kaleidoscope aura curtain static swimming disappeared vanished snow
spotty: black_spots dark_spots spots_in_front spots_before spots_in_my flashing_lights
  flashes_of_light flashing_spots blind_spot blind_spots double_vision double_vison seeing_double
  saw_double see_double seeing_spots saw_spots see_spots seeing_two blurred_vision blurry_vision
  visual_aura went_blind gone_blind floaters silver_spots white_spots black_dots dark_dots
  seeing_flashes saw_flashes eyesight_went sight_went sight_dimmed vision_went cant_see_straight
  couldnt_see_straight can't_see_straight couldn't_see_straight zigzag_lines zigzags zig_zags
  zig_zag_lines
stroke: slurred slurring slurry_speech face_drooped face_droop face_drooping droopy_face
  drooping_face one_sided_weakness words_came_out_wrong cant_find_words couldnt_find_words
  couldn't_speak couldnt_speak could_not_speak couldnt_get_words_out couldn't_get_words_out
  speech_went
burst: explode exploded exploding explodes burst bursting burstng split splitting pound pounding
  pounded throb throbbing throbbed banging hammering killing thumping hurt hurts hurting pain
  pains pop ache aches ached aching crushed drilled stabbing stab pulsing pulsating screaming
  agony tight pressure
cause: coffee caffeine hungover hangover hangovers work screen screens laptop sinus sinuses cold
  flu dehydrated dehydration beers beer wine booze pub heat hot office meeting meetings kids tired
  sleep slept sleepless stress stressed hayfever pollen traffic overtime flight band_too weather
  noise loud music glasses exam hair ponytail headband headphones clenching alcohol deadline
  skipped_lunch wind fasting

# urine, swelling
brown: maple_syrup syrup root_beer soy_sauce brick dark darker darkish brown brownish browny cola
  coke coffee tea rust rusty red reddish black blood bloody bloodstained pink stout guinness
  mahogany maroon amber orange port pepsi dr_pepper espresso treacle chocolate muddy bovril
  marmite gravy ale whisky whiskey bronze molasses beetroot wine mud
swell: swollen swelling swell swells swelled swelt swole_up swolen ballooned balloon balloons
  ballooning puffy puffed_up blown_up blew_up inflated twice_the_size twice_its_size
  twice_their_size double_the_size double_the_normal_size bloated oedema edema puffiness rock_hard
  massive_and_hot michelin engorged huge_and_hot like_sausages like_tree_trunks
bend: bend bending straighten straightening straight extend extending lift lifting raise raising
  move moving use using unbend fold hold open close grip reach
weak: weak weakness weaker powerless useless jelly dead lifeless strengthless floppy limp
extreme: extreme extremely so severe severely profound serious terrible terribly properly
  incredibly alarmingly worryingly scarily massive massively complete completely unbelievably
  shockingly sudden suddenly horribly frighteningly
rhabdo: rhabdo rhabdomyolysis

# numbness, grip
numb: stinger trapped_nerve pinched_nerve nerve_pain sciatica ants_crawling pins_ans_needles
  cotton_wool_feet numb numbed numbness numbed_out numbing numby tingle tingles tingled
  tingling tingly tingley pins_and_needles pins_n_needles pins_needles pin_and_needles
  pins_and_needle pins_an_needles prickling prickly prickles paresthesia paraesthesia fizzing
  dead_arm dead_leg dead_hand zapping zaps zapped zap electric_shock electric_shocks electric_jolt
  electric_pain electrical_shock electric_zing zing zings zinger lost_feeling lost_sensation
  losing_feeling loss_of_feeling loss_of_sensation lost_all_feeling no_feeling no_sensation
  foot_drop dropfoot zero_feeling
dead: dead asleep sleep lifeless useless limp buzzing buzzy buzz fizzy burning cold weak numb
  tingly rubber rubbery wooden dozy gone electric electricity prickly white blue
asleep: asleep to_sleep dead lifeless limp wooden rubbery rubber fizzy buzzing buzzy buzz prickly
  electric electricity blue white stone_cold
grip: grip grips strength power control hold coordination
lose: lost lose loses losing loss vanish vanished vanishes vanishing disappeared disappearing
  disappears went gone gave_way gave_out gives_out giving_out failed fails failing cut_out
  cuts_out switched_off evaporated packed_in no quit weaker weakening deserted dropped dropping
  drops opened
out_of_blue: left right one nowhere no_reason suddenly sudden just weird odd weirdly random
  randomly strange strangely warning mug cup kettle keys phone pen door jar empty light warmup
  warm_up warm_ups warmups fingers side keeps week days morning again blue

# sharp, stab, pop
sharp: sharp sharply
stab: jolt jolts hot_wire needle needles stabbing stab stabs stabbed stabby jabbing jab jabs knife
  knifelike knives dagger daggers skewer needle_like red_hot_poker hot_poker shooting shoot shoots
  shot piercing lightning bolt ice_pick icepick lancing searing spike_of
pop: pop popped popping pops snap snapped snapping twang twanged ping pinged pinging crunch
  crunched tear tearing tore torn rip ripped ripping rupture ruptured crack cracked dislocated
  dislocate clunk clunked
tear: tear tearing torn rip ripped ripping rupture ruptured tore twang twanged pinged dislocated
  dislocate snapped snap snapping
thing: something somthing smth summat sth it felt feel heard hear feeling sensation noise sound
  audible loud painful nasty horrible sickening weird

# time and work
day: monday tuesday wednesday thursday friday saturday sunday mon tue tues wed thu thur thurs fri
  sat sun yesterday weekend yesterdays mondays tuesdays wednesdays thursdays fridays saturdays
  sundays
work: flyes flies fly flye press presses pressing bench benching pec_deck dips dip pushups
  push_ups pressups press_ups cable cables crossovers pump session workout training hill run
  running runs raises sprints football match hike hiking squats deads deadlifts leg_day push_day
  pull_day shrugs curls rows volume chins pullups pull_ups cycling swim game race marathon lunges
  stretch stretching stretched hills jumps skipping 5k 10k ride class
hard_work: sled prowler sprint sprints conditioning rower rowing row erg bike assault airbike
  burpees burpee finisher finishers circuit circuits widowmaker widowmakers 20s 30s hill hills
  intervals interval metcon amrap emom hiit thrusters skierg ski treadmill run running carries
  carry farmers drop dropset dropsets superset supersets giant tabata cardio high_reps high_rep
  short_rest short_rests wod kettlebell swings giant_set marathon rope battle ropes
  breathing_squats cluster density
expected: usual normal expected obviously of_course course always standard good great love loved
  fun happy nice fair_enough ok fine typical healthy lovely enjoyed enjoyable recovered proud
  as_it_should as_planned routine naturally
clothes: shirt tshirt vest bra belt hoodie kit strap suit tee jacket jumper top singlet wrap wraps
  sleeve sleeves straps socks sock
fatigue: last final rep reps set sets failure deads deadlift deadlifts row rows carry carries
  farmers holds hold hang hanging chalk sweaty sweat slippery straps strap bar wet first callus
  cream moisturiser hook max pr pb single double amrap slipped pulldowns shrugs heavy top pullups
  chins by

# denial and telling
deny: no not never without none nil zero neither nor didnt didn't did_not dont don't do_not doesnt
  doesn't does_not wasnt wasn't was_not werent weren't were_not isnt isn't is_not arent aren't
  are_not havent haven't have_not hasnt hasn't has_not hadnt hadn't had_not wouldnt wouldn't
  would_not wont won't aint ain't denies denied denying free_of clear_of 0 any_ nada not_any wo
  nothing_like instead_of rather_than absence_of lack_of nope cant_feel_any can't_feel_any
  couldnt_feel_any rule_out ruled_out minus no_sign_of no_signs_of nothing w_o
filler: goes happens this_time ever
  feel felt feeling get got getting gets have had having any a an the my real sign signs of
  hint trace bit at all experience experienced experiencing notice noticed noticing been be being
  in actual kind sort slightest such single go went going gone suffer suffered become any_
  symptoms symptom report reported reporting from me one there was were to come came bad unusual
  weird abnormal new major sudden obvious spot hands fingers arm arms hand left right leg legs
  head heart chest actually now today anything like other either bother bothered apparent
  significant further noticeable nasty develop develops feels
said_no: no nope none nah nil never negative zero not not_really not_at_all nada 0 nout nowt naw
  noo no_way
said_rest: thanks thank you today at all this time luckily thankfully though tho mate coach god so
  far week session whatsoever now ever really here sir i didnt wasnt was did not and just asking
  fine good ok feeling had any have got it them one felt only
after_no: none absent nil negative free zero 0 no nope nada nowt
if: if incase in_case unless whenever should lest until before_i when_you anyone_with anybody_with
  anyone_has case_of any_sign_of event_of any_signs_of first_sign_of at_first_sign
advice: is_it_normal_to is_it_normal_to_get might_get might_feel may_get may_feel can_cause
  note_to_self report reminder_to_self rule_any
  stop_on stop_for stop_at stop_with stopping_for watch_for watch_out_for look_out_for
  looking_out_for keep_an_eye_out_for beware_of beware careful_of avoid avoiding avoids prevent
  preventing prevents scared_of afraid_of fear_of fearing read_about reading_about article_on
  article_about video_on video_about podcast_on podcast_about asked_about asks_about
  asked_me_about ask_about talk_about talked_about talk_on chat_about told_me_about warned_about
  warned_me_about warning_about risk_of risks_of question_about questions_about question_on
  watching_for check_for checked_for checking_for screened_for screening_for signs_like means_stop
  wary_of mindful_of poster_about leaflet_on leaflet_about course_on learned_about learnt_about
  spoke_about list_of stop_if warned_of jokes_about joked_about joke_about meme_about memes_about
  lecture_on lecture_about test_for causes_of what_is symptoms_of_a signs_of_a quiz_about
  first_aid_for
other: mate mates friend friends partner wife husband girlfriend boyfriend dad mum mom mam brother
  sister son daughter guy bloke lad girl woman man kid kids coach client someone somebody lifter
  neighbour neighbor colleague he she they his her their spotter dog teammate pt uncle aunt
  grandad grandma nan gran boss fella dude buddy people everyone everybody cat missus fiance
  fiancee cousin mother father bro gf bf lifters member members trainer chap another_lifter nobody
  no_one noone anyone anybody lady boy player character roommate flatmate physio trainee newbie
  old_man some_guy
me: i i'm im ive i've i'd id me my mine myself i'll
with: with by for to from at and of near beside behind after helped spotting spotted
told: said says told reckons reckoned noticed saw thought thinks asked spotted caught helped made
  found watched sees picked stopped held
"""[1:]
