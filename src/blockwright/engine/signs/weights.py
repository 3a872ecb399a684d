"""Weights of words in notes, in twentieths; written by studies/sign_weights.py."""

START = -89
OF_A_RULE = 40
WEIGHTS = """
,=-14 ,_3=7 ,_<after_no>=1 ,_<arm>=4 ,_<bad>=-3 ,_<be>=-7 ,_<beat>=-1 ,_<blur>=-4 ,_<chest>=-3
,_<clothes>=4 ,_<day>=2 ,_<dead>=2 ,_<deny>=4 ,_<expected>=-14 ,_<fatigue>=2 ,_<filler>=7
,_<good>=-3 ,_<if>=5 ,_<limb>=5 ,_<lose>=-1 ,_<muscle>=5 ,_<no_effort>=9 ,_<odd>=-3 ,_<other>=8
,_<out_of_blue>=-3 ,_<said_no>=6 ,_<said_rest>=1 ,_<sharp>=6 ,_<sore>=3 ,_<stab>=-4 ,_<swell>=2
,_<thing>=6 ,_<told>=2 ,_<very>=-2 ,_arms=3 ,_back=-2 ,_bench=4 ,_came=-2 ,_can=-4 ,_cant=3
,_chest=-3 ,_dropped=4 ,_eased=2 ,_every=5 ,_fine=4 ,_glad=-4 ,_good=-3 ,_got=-10 ,_had=5 ,_i=1
,_it=4 ,_its=5 ,_just=-9 ,_last=6 ,_lasted=4 ,_left=3 ,_legs=3 ,_like=4 ,_little=-6 ,_long=-6
,_loosened=-4 ,_missed=-4 ,_need=-2 ,_never=2 ,_new=3 ,_no=1 ,_normal=-6 ,_not=2 ,_nothing=-3
,_now=-7 ,_on=5 ,_one=7 ,_only=2 ,_right=-4 ,_same=3 ,_sat=2 ,_sharp=6 ,_shoot=-4 ,_since=3
,_sore=3 ,_still=4 ,_stopped=7 ,_stretched=-5 ,_theres=5 ,_third=6 ,_thought=4 ,_told=-4 ,_took=4
,_trained=3 ,_usual=-3 ,_went=-5 .=18 1=-1 100=-7 10_<no_effort>=4 10kg=-2 12=-3 120=-3 140=-7
15=5 180=5 190=9 1_<fatigue>=-4 1_rep=-5 20=-5 20_<no_effort>=2 20s=-4 210=6 2_,=-3 2_<filler>=5
2_<no_effort>=-4 2_<with>=5 2_of=5 2nd=-3 3=8 3_,=4 3_<fatigue>=-4 3_sets=-5 3x10=-5 3x12=-4
3x15=-3 3x5=-2 3x8=-5 4=2 40=-4 4th=4 5=-7 52=-4 5_<no_effort>=2 5x3=-7 5x5=-2 6=5 80=4 85=5 9=-1
<ache>=8 <ache>_from=-3 <ache>_in=-4 <advice>=-28 <advice>_about=-3 <advice>_for=-4 <advice>_on=-6
<after_no>=-10 <after_no>_chest=-4 <after_no>_idea=5 <after_no>_pain=-2 <after_no>_reason=4
<after_no>_tingling=-4 <arm>=7 <arm>_,=4 <arm>_on=6 <arm>_so=-4 <asleep>_on=-5 <bad>=8 <be>=15
<be>_a=-5 <be>_an=3 <be>_any=-4 <be>_back=-5 <be>_better=-5 <be>_brown=4 <be>_chest=-4
<be>_dizzy=-4 <be>_going=5 <be>_grand=-4 <be>_in=5 <be>_it=-4 <be>_lightheaded=-3 <be>_like=10
<be>_me=-4 <be>_missing=-5 <be>_my=-2 <be>_off=4 <be>_on=9 <be>_only=4 <be>_out=5 <be>_really=3
<be>_round=5 <be>_sharp=-5 <be>_strong=-4 <be>_swollen=3 <be>_that=3 <be>_the=-11 <be>_tight=5
<be>_to=8 <be>_up=8 <be>_weak=-3 <be>_well=-7 <be>_worse=4 <beat>=19 <beat>_,=8 <beat>_beats=7
<beat>_heart=6 <beat>_in=3 <beat>_over=3 <beat>_rhythm=4 <beat>_rope=-4 <beat>_the=-6
<beat>_thump=4 <bend>_my=4 <bend>_the=-5 <blur>=19 <blur>_,=-2 <blur>_about=4 <blur>_heart=-4
<blur>_my=4 <blur>_numb=3 <blur>_on=4 <blur>_out=-5 <blur>_to=-3 <blur>_video=-4 <blur>_vision=6
<bone>=10 <bone>_during=4 <breath>=20 <breath>_after=3 <breath>_in=3 <breath>_lying=4
<breath>_on=3 <breath>_properly=4 <brown>=15 <brown>_,=2 <brown>_and=-2 <brown>_brown=3
<brown>_coloured=7 <brown>_in=2 <brown>_urine=2 <brown>_wee=3 <burn>=-4 <burn>_on=-3 <burst>=19
<burst>_,=-2 <burst>_after=-6 <burst>_and=2 <burst>_at=-3 <burst>_chest=3 <burst>_headache=4
<burst>_in=3 <burst>_on=4 <burst>_or=-7 <burst>_under=4 <burst>_when=-2 <calf>=2 <calf>_are=-5
<calf>_is=5 <calf>_raises=-3 <calf>_sore=2 <calf>_swollen=4 <cannot>=29 <cannot>_after=-8
<cannot>_bend=3 <cannot>_breathe=3 <cannot>_catch=4 <cannot>_come=3 <cannot>_get=2 <cannot>_go=3
<cannot>_read=4 <cannot>_to=4 <cause>=-14 <cause>_,=-4 <cause>_in=-2 <cause>_on=-3 <chest>=14
<chest>_,=4 <chest>_and=-4 <chest>_discomfort=5 <chest>_during=5 <chest>_is=-2 <chest>_on=3
<chest>_pain=-2 <chest>_tight=5 <clothes>=-14 <clothes>_of=4 <colour>=-1 <day>=10 <day>_down=2
<dead>=5 <dead>_,=3 <dead>_after=-8 <dead>_by=-5 <dead>_heavy=5 <dead>_on=-8 <deny>=1 <deny>_,=3
<deny>_breathless=-5 <deny>_chest=-7 <deny>_dizzy=-6 <deny>_eat=6 <deny>_even=4 <deny>_get=-8
<deny>_go=3 <deny>_had=-3 <deny>_hurt=-9 <deny>_idea=5 <deny>_in=-4 <deny>_of=-6 <deny>_pain=-4
<deny>_reason=4 <deny>_remember=7 <deny>_sharp=-5 <deny>_sleep=4 <deny>_the=4 <deny>_tingling=-4
<everything>=2 <everything>_,=4 <everything>_after=4 <everything>_board=-4 <everything>_fine=-3
<everything>_for=5 <everything>_hurts=-3 <everything>_on=-5 <everything>_over=2
<everything>_session=3 <everything>_today=-4 <everything>_up=-3 <everything>_was=3
<everything>_went=6 <expected>=-23 <expected>_,=4 <expected>_for=3 <expected>_in=-5
<expected>_now=5 <extreme>_headache=5 <extreme>_i=-3 <extreme>_swollen=8 <extreme>_we=-3
<extreme>_weak=5 <eyes>=23 <eyes>_board=-4 <eyes>_from=-3 <eyes>_went=3 <faint>=37 <faint>_,=-9
<faint>_after=4 <faint>_and=7 <faint>_cold=4 <faint>_headed=-5 <faint>_in=3 <faint>_no=-5
<faint>_on=13 <faint>_out=10 <faint>_over=5 <fatigue>_2=2 <fatigue>_3=4 <fatigue>_after=-3
<fatigue>_and=-2 <fatigue>_for=-4 <fatigue>_in=-9 <fatigue>_on=-10 <fatigue>_one=2
<fatigue>_the=-2 <fatigue>_then=-3 <fatigue>_two=-3 <fatigue>_was=-4 <filler>=1 <filler>_,=-4
<filler>_20=-7 <filler>_3=-5 <filler>_80=5 <filler>_ache=8 <filler>_air=5 <filler>_an=2
<filler>_and=-7 <filler>_any=-5 <filler>_are=3 <filler>_arm=-3 <filler>_bar=-4 <filler>_beat=4
<filler>_beating=4 <filler>_bed=3 <filler>_before=-4 <filler>_bench=4 <filler>_better=-5
<filler>_between=4 <filler>_blurry=3 <filler>_both=5 <filler>_breastbone=4 <filler>_breathless=-6
<filler>_calf=6 <filler>_calves=-5 <filler>_car=2 <filler>_carries=3 <filler>_chalk=-4
<filler>_chest=-1 <filler>_class=-4 <filler>_cold=-4 <filler>_colour=4 <filler>_day=-4
<filler>_dips=3 <filler>_discomfort=5 <filler>_dizzy=-9 <filler>_doing=6 <filler>_down=3
<filler>_easy=5 <filler>_elbow=3 <filler>_every=-5 <filler>_eye=4 <filler>_eyes=-2
<filler>_faint=2 <filler>_felt=-2 <filler>_few=3 <filler>_fine=-1 <filler>_flat=-8 <filler>_foot=2
<filler>_for=6 <filler>_garage=-4 <filler>_going=3 <filler>_grand=-4 <filler>_grip=2
<filler>_groin=5 <filler>_hamstring=3 <filler>_hand=4 <filler>_hands=-7 <filler>_head=2
<filler>_heart=1 <filler>_hip=2 <filler>_hour=3 <filler>_i=4 <filler>_is=-5 <filler>_it=-7
<filler>_its=3 <filler>_jaw=5 <filler>_just=3 <filler>_kid=-3 <filler>_knee=1 <filler>_knees=4
<filler>_lads=-4 <filler>_last=2 <filler>_left=7 <filler>_lightheaded=-3 <filler>_like=3
<filler>_little=3 <filler>_lower=4 <filler>_mate=4 <filler>_middle=4 <filler>_minute=-2
<filler>_my=3 <filler>_n=-4 <filler>_new=-9 <filler>_nothing=5 <filler>_now=-2 <filler>_nowhere=3
<filler>_of=-2 <filler>_ok=-3 <filler>_on=7 <filler>_one=-5 <filler>_only=6 <filler>_other=3
<filler>_out=7 <filler>_over=6 <filler>_pain=-6 <filler>_pains=3 <filler>_pec=4 <filler>_pop=4
<filler>_press=-2 <filler>_pressure=3 <filler>_pump=-5 <filler>_quads=-5 <filler>_rack=2
<filler>_rate=-4 <filler>_really=4 <filler>_rep=-3 <filler>_reps=-5 <filler>_rest=3
<filler>_right=4 <filler>_round=3 <filler>_second=6 <filler>_session=3 <filler>_sharp=-2
<filler>_shoulder=1 <filler>_side=1 <filler>_since=4 <filler>_sit=2 <filler>_skipped=7
<filler>_sled=3 <filler>_squat=-3 <filler>_start=9 <filler>_stiff=-4 <filler>_stretch=-3
<filler>_strong=-3 <filler>_swollen=-4 <filler>_that=6 <filler>_the=-11 <filler>_through=4
<filler>_tight=2 <filler>_time=-3 <filler>_to=9 <filler>_touch=6 <filler>_training=7
<filler>_treadmill=4 <filler>_twice=6 <filler>_up=3 <filler>_w=4 <filler>_walk=2 <filler>_warm=-3
<filler>_weak=-4 <filler>_wee=-3 <filler>_well=-7 <filler>_went=5 <filler>_whole=3 <filler>_wife=7
<filler>_with=-5 <filler>_woozy=6 <filler>_word=5 <filler>_worse=4 <gasp>=29 <gasp>_,=-3
<gasp>_after=-6 <gasp>_and=3 <gasp>_from=5 <gasp>_hard=-4 <gasp>_on=4 <gasp>_out=-5 <gasp>_tying=4
<gasp>_walking=8 <good>=-7 <grip>=-4 <hand>=9 <hand>_numb=4 <hand>_on=3 <hard_work>=-7
<hard_work>_,=4 <headache>=16 <heart>=21 <heart>_beat=4 <heart>_jumping=6 <heart>_of=-5
<heart>_rate=-4 <heavy>=4 <heavy>_,=4 <heavy>_after=-6 <heavy>_single=-3 <if>=-8 <if>_chest=-4
<if>_my=-4 <jaw>=15 <jaw>_and=3 <jaw>_clenched=-5 <jaw>_dropped=-4 <jaw>_on=3 <jaw>_pain=5
<limb>=11 <limb>_,=3 <limb>_after=3 <limb>_are=-2 <limb>_clicks=-4 <limb>_day=-1 <limb>_doms=-5
<limb>_from=-3 <limb>_gave=5 <limb>_gone=3 <limb>_is=5 <limb>_just=4 <limb>_like=-2 <limb>_numb=4
<limb>_of=7 <limb>_pain=1 <limb>_popped=7 <limb>_press=-2 <limb>_pump=-4 <limb>_pumped=-4
<limb>_raises=-3 <limb>_swelled=3 <limb>_swollen=2 <limb>_tight=-3 <limb>_tingling=8 <limb>_went=5
<lose>=-2 <lose>_,=-2 <lose>_after=-3 <lose>_chest=-3 <lose>_dark=-6 <lose>_idea=5 <lose>_light=-5
<lose>_my=5 <lose>_out=-3 <lose>_pain=-2 <lose>_reason=4 <lose>_tingling=-4 <lose>_to=-2
<lose>_when=-4 <me>=11 <me>_arm=-3 <me>_back=6 <me>_breath=-4 <me>_chest=4 <me>_did=4 <me>_do=-3
<me>_eyes=-2 <me>_going=5 <me>_had=-2 <me>_hands=-4 <me>_head=-3 <me>_off=-4 <me>_own=-4
<me>_push=2 <me>_think=3 <me>_up=-5 <me>_was=3 <muscle>=7 <muscle>_,=1 <muscle>_a=-4
<muscle>_after=2 <muscle>_and=3 <muscle>_are=3 <muscle>_at=3 <muscle>_clicks=-4 <muscle>_gave=4
<muscle>_numb=3 <muscle>_popped=11 <muscle>_press=-2 <muscle>_so=4 <muscle>_sore=-4
<muscle>_stiff=-4 <muscle>_went=5 <neck>=2 <no_effort>=11 <no_effort>_,=2 <no_effort>_after=5
<no_effort>_again=5 <no_effort>_and=-4 <no_effort>_at=-2 <no_effort>_breathless=5
<no_effort>_did=-4 <no_effort>_down=9 <no_effort>_felt=-4 <no_effort>_for=3 <no_effort>_funny=-5
<no_effort>_headed=-5 <no_effort>_hr=-4 <no_effort>_like=-4 <no_effort>_me=3 <no_effort>_my=4
<no_effort>_on=11 <no_effort>_reason=4 <no_effort>_since=3 <no_effort>_so=-3 <no_effort>_then=4
<no_effort>_there=4 <no_effort>_to=2 <no_effort>_today=5 <no_effort>_up=9 <no_effort>_was=-4
<numb>=20 <numb>_,=-3 <numb>_fingers=4 <odd>=9 <odd>_,=-2 <odd>_after=4 <one_calf>=16
<one_calf>_is=5 <one_calf>_raises=-3 <one_calf>_sore=4 <one_calf>_swollen=4 <other>=-15
<other>_asked=5 <other>_fainted=-6 <other>_got=-4 <other>_had=-5 <other>_has=-7 <other>_in=-4
<other>_is=-4 <other>_passed=-5 <out_of_blue>=18 <out_of_blue>_,=-4 <out_of_blue>_after=3
<out_of_blue>_calf=4 <out_of_blue>_eye=4 <out_of_blue>_flight=4 <out_of_blue>_hand=5
<out_of_blue>_headed=-5 <out_of_blue>_leg=3 <out_of_blue>_on=-2 <out_of_blue>_reason=4
<out_of_blue>_side=6 <out_of_blue>_up=-5 <pain>=13 <pain>_on=4 <pain>_or=-6 <pain>_when=-3
<palp>=20 <palp>_again=6 <palp>_beats=4 <part>=3 <part>_,=4 <part>_a=-6 <part>_ache=3
<part>_after=2 <part>_all=3 <part>_and=-6 <part>_are=-2 <part>_at=2 <part>_back=3 <part>_clicks=-4
<part>_day=-3 <part>_discomfort=5 <part>_doms=-7 <part>_for=3 <part>_from=-4 <part>_gave=4
<part>_gone=3 <part>_in=-2 <part>_is=2 <part>_just=4 <part>_n=-2 <part>_numb=4 <part>_of=3
<part>_on=2 <part>_popped=14 <part>_press=-3 <part>_puffed=-5 <part>_pump=-4 <part>_pumped=-4
<part>_raises=-3 <part>_since=2 <part>_snapped=4 <part>_so=5 <part>_sore=-4 <part>_stiff=-5
<part>_stretch=-3 <part>_swelled=3 <part>_swollen=2 <part>_tight=-4 <part>_tingling=8
<part>_tired=-3 <part>_today=-5 <part>_walking=-3 <part>_went=9 <part>_when=2 <part>_wont=3
<pee>=18 <pee>_,=3 <pee>_brown=3 <pee>_is=4 <pee>_like=5 <pee>_was=3 <pee_only>=21 <pee_only>_,=3
<pee_only>_brown=3 <pee_only>_is=4 <pee_only>_was=3 <place>=3 <place>_after=3 <place>_went=5
<pop>=9 <pop>_,=5 <pop>_and=4 <pop>_in=3 <pop>_on=-2 <pop>_the=-5 <pop>_through=-5 <press>=11
<press>_,=-5 <press>_chest=3 <press>_in=8 <press>_on=4 <rate>=3 <rate>_rate=-4 <rate_bad>=17
<rate_bad>_rest=2 <rate_bad>_to=3 <ribs>=3 <said_no>=-7 <said_no>_chest=-4 <said_no>_dizzy=-3
<said_no>_idea=5 <said_no>_pain=-4 <said_no>_reason=4 <said_no>_tingling=-4 <said_rest>=-1
<said_rest>_,=3 <said_rest>_10=-4 <said_rest>_3=-4 <said_rest>_4=-4 <said_rest>_5=-3
<said_rest>_a=3 <said_rest>_after=7 <said_rest>_all=-4 <said_rest>_any=-6
<said_rest>_breathless=-3 <said_rest>_chest=-3 <said_rest>_couldnt=-9 <said_rest>_day=-2
<said_rest>_did=2 <said_rest>_dizzy=-7 <said_rest>_even=3 <said_rest>_feel=-4 <said_rest>_fine=-3
<said_rest>_finished=-4 <said_rest>_flight=4 <said_rest>_from=4 <said_rest>_got=-3
<said_rest>_grand=-4 <said_rest>_home=-5 <said_rest>_i=5 <said_rest>_in=-3 <said_rest>_is=-3
<said_rest>_it=-3 <said_rest>_jaw=3 <said_rest>_light=-4 <said_rest>_lightheaded=-3
<said_rest>_like=2 <said_rest>_lungs=-5 <said_rest>_mean=-5 <said_rest>_morning=4
<said_rest>_my=-2 <said_rest>_myself=6 <said_rest>_not=4 <said_rest>_now=6 <said_rest>_off=2
<said_rest>_ok=-2 <said_rest>_only=4 <said_rest>_out=-5 <said_rest>_over=5 <said_rest>_pain=-5
<said_rest>_pumped=-5 <said_rest>_push=2 <said_rest>_really=4 <said_rest>_rest=2
<said_rest>_running=5 <said_rest>_said=-2 <said_rest>_sat=6 <said_rest>_session=6
<said_rest>_sharp=-3 <said_rest>_short=2 <said_rest>_side=4 <said_rest>_slow=-6
<said_rest>_started=-4 <said_rest>_still=5 <said_rest>_strong=-4 <said_rest>_swollen=5
<said_rest>_that=4 <said_rest>_the=10 <said_rest>_think=3 <said_rest>_tight=3 <said_rest>_time=-3
<said_rest>_to=8 <said_rest>_today=-6 <said_rest>_was=5 <said_rest>_we=-3 <said_rest>_when=4
<sharp>=10 <sharp>_,=5 <sharp>_pain=4 <sore>=-6 <sore>_,=-3 <sore>_from=-4 <spin>=7 <spotty>=16
<spotty>_vision=3 <stab>=14 <stab>_at=-7 <stab>_in=10 <stab>_pain=5 <stroke>=8 <swell>=13
<swell>_and=3 <swell>_up=4 <tear>_in=3 <tear>_through=-5 <thing>=9 <thing>_a=5 <thing>_dizzy=-3
<thing>_go=4 <thing>_in=6 <thing>_it=7 <thing>_lightheaded=-5 <thing>_like=4 <thing>_my=3
<thing>_something=4 <thing>_strong=-4 <thing>_today=-3 <thing>_tore=4 <thing>_up=-3 <thing>_was=3
<told>=5 <told>_i=4 <told>_my=-3 <told>_the=-7 <told>_to=-4 <up_down>=1 <up_down>_,=5
<up_down>_a=-4 <up_down>_from=3 <up_down>_get=2 <up_down>_gym=7 <up_down>_it=-5 <up_down>_neck=5
<up_down>_sit=2 <up_down>_the=8 <up_down>_to=-2 <up_down>_touch=2 <very>=7 <very>_,=8 <very>_a=2
<very>_arm=-2 <very>_arms=3 <very>_bar=-2 <very>_bench=8 <very>_big=-5 <very>_bit=-3
<very>_breastbone=4 <very>_breath=-2 <very>_calf=3 <very>_calves=-4 <very>_carries=3
<very>_chest=-2 <very>_colour=4 <very>_couldnt=-7 <very>_dizzy=12 <very>_eyes=-2 <very>_faint=5
<very>_fainted=6 <very>_few=3 <very>_fine=-4 <very>_flat=-5 <very>_floor=-3 <very>_for=3
<very>_front=4 <very>_garage=-4 <very>_groin=3 <very>_gym=-2 <very>_hamstring=3 <very>_hand=3
<very>_hands=-4 <very>_head=1 <very>_headache=-3 <very>_hit=4 <very>_jaw=3 <very>_jelly=-4
<very>_kid=-3 <very>_last=1 <very>_left=5 <very>_little=3 <very>_me=-2 <very>_minute=2
<very>_new=-5 <very>_of=2 <very>_one=-3 <very>_other=3 <very>_over=2 <very>_pec=4 <very>_pop=4
<very>_rack=2 <very>_rep=-5 <very>_reps=-4 <very>_right=3 <very>_second=5 <very>_session=4
<very>_sharp=7 <very>_shoulder=-3 <very>_side=-3 <very>_sled=3 <very>_squat=-4 <very>_stiff=-3
<very>_swollen=4 <very>_treadmill=4 <very>_walk=2 <very>_we=-3 <very>_weak=5 <very>_wee=-8
<very>_whole=2 <very>_wife=7 <weak>=-6 <weak>_after=-6 <with>=1 <with>_,=2 <with>_10=-6
<with>_20=-3 <with>_3=3 <with>_5=2 <with>_80=5 <with>_a=2 <with>_chest=-2 <with>_each=7
<with>_every=4 <with>_get=2 <with>_heavy=3 <with>_home=-5 <with>_i=3 <with>_jaw=5 <with>_left=-3
<with>_lockout=3 <with>_me=-6 <with>_my=6 <with>_neck=2 <with>_new=-3 <with>_no=-1
<with>_nothing=3 <with>_nowhere=3 <with>_off=3 <with>_one=3 <with>_rest=6 <with>_set=-4
<with>_sick=4 <with>_sit=2 <with>_that=-4 <with>_the=1 <with>_tight=3 <with>_time=-4
<with>_touch=2 <with>_training=5 <with>_work=-5 <work>=-7 <work>_,=-6 <work>_in=-4 <work>_ok=5
<work>_partner=4 ?=4 a=5 a_<beat>=3 a_<brown>=-4 a_<burst>=3 a_<cause>=-3 a_<fatigue>=-2
a_<filler>=-6 a_<headache>=-4 a_<limb>=-6 a_<no_effort>=2 a_<other>=-5 a_<part>=-5 a_<pee>=-5
a_<pee_only>=-5 a_<pop>=9 a_<press>=5 a_<stab>=3 a_<tear>=3 a_<very>=1 a_few=3 a_headache=-4
a_minute=2 a_pop=4 a_wee=-4 about=2 about_<filler>=2 about_<very>=3 abs=-3 ache=10
ache_<up_down>=3 aching=5 across=6 across_<filler>=2 af=10 after=16 after_3=5 after_<fatigue>=6
after_<filler>=2 after_<hard_work>=-6 after_<me>=5 after_<no_effort>=-4 after_<part>=3
after_<said_rest>=7 after_<very>=-2 after_<work>=6 after_a=-5 after_each=5 after_that=-4
after_the=3 after_training=3 again=12 again_,=3 again_<filler>=3 again_<said_rest>=3 again_on=8
ago=-4 ago_<said_rest>=-4 air=9 alert=7 all=-3 all_<be>=-4 all_<expected>=-4 all_<fatigue>=-4
all_<filler>=-7 all_<out_of_blue>=5 all_<up_down>=6 all_<work>=3 all_over=2 all_session=3 almost=6
almost_<faint>=5 always=-4 an=8 an_<no_effort>=5 and=15 and_10=-4 and_<after_no>=-4 and_<be>=4
and_<breath>=-5 and_<burst>=7 and_<cause>=2 and_<dead>=5 and_<deny>=-4 and_<everything>=3
and_<faint>=4 and_<fatigue>=4 and_<good>=4 and_<jaw>=4 and_<limb>=3 and_<lose>=-4 and_<me>=5
and_<muscle>=2 and_<odd>=3 and_<pain>=3 and_<said_no>=-4 and_<said_rest>=5 and_<thing>=4
and_<told>=4 and_<very>=7 and_a=-4 and_i=1 and_it=4 and_jaw=3 and_my=2 and_no=-4 and_off=3
and_sick=4 and_the=5 and_tight=3 ankle=-4 any=-12 any_<filler>=-4 anymore=-8 apparently=4 are=-6
are_<swell>=3 arm_,=3 arm_<ache>=5 arm_<be>=3 arm_<burst>=2 arm_<filler>=2 arm_<numb>=4
arm_<said_rest>=-2 arm_<very>=3 arm_<work>=-6 arms=-3 arms_<extreme>=-4 arms_<said_rest>=-5
arms_<very>=-3 arms_<with>=-2 arms_so=-4 article=-6 as=-7 as_<expected>=-4 as_<filler>=2 as_<me>=3
as_<no_effort>=-3 as_<very>=6 as_a=-4 as_i=3 as_usual=-3 asleep=-4 at=6 at_<everything>=-2
at_<filler>=1 at_<no_effort>=3 at_<said_rest>=-3 at_all=-1 at_rest=2 at_the=2 ate=3 avg=-3 back=-4
back_,=-5 back_<be>=2 back_<filler>=4 back_<said_rest>=-7 back_<with>=-5 back_after=-6 back_of=5
bad=12 bad_<filler>=4 band=-6 bang=3 bar=-13 bar_<be>=-3 bar_<fatigue>=-3 bar_<filler>=-5
bar_<said_rest>=-3 bar_<with>=-4 bc=4 be=-3 beat=4 beating=4 beats=12 bed=2 been=5 before=-2
before_<filler>=-7 before_<very>=-6 before_the=-3 behind=2 behind_<bone>=4 behind_<chest>=4
being=4 belt=-6 bench=-2 bend=3 better=-11 between=3 between_<fatigue>=-2 between_sets=-2 bicep=8
big=-3 bigger=5 bigger_than=3 bike=-2 bike_,=4 bit=1 bit_<faint>=10 bit_<filler>=-2 bit_<with>=-4
bit_of=-2 bit_stiff=-3 black=-3 blacked=6 blacked_out=6 blood=5 blowing=-4 blurred=7
blurred_<everything>=3 blurred_<eyes>=3 blurry=5 blurry_video=-4 board=-7 both=3 both_<arm>=3
both_<filler>=2 both_<limb>=2 both_<muscle>=6 both_<part>=4 bp=2 breakfast_,=4 breastbone=4
breath=2 breath_<no_effort>=4 breath_<said_rest>=-4 breath_<very>=5 breath_on=2 breathe=2
breathe_<very>=3 breathing=-2 breathing_<be>=5 breathing_<filler>=5 breathless=7
breathless_<no_effort>=4 breathless_<said_rest>=3 breathless_<with>=-3 breathless_after=-6
breathless_on=3 broke=-5 brother=-4 brown=9 brown_<pee>=6 brown_<pee_only>=6 burned=-2 burning=3
bus=5 but=-3 by=-14 by_<filler>=-2 by_<out_of_blue>=-3 calf=13 calf_<ache>=2 calf_<be>=3
calf_<burst>=4 calf_<filler>=5 calf_<pain>=3 calf_<said_rest>=5 calf_<sore>=4 calf_<very>=4
calf_<with>=5 calf_<work>=-6 calf_is=5 calf_raises=-3 calf_sore=4 callus=-5 calves=-15
calves_<be>=-5 came=10 came_<up_down>=5 came_on=2 came_out=4 came_over=4 can=-6 can't=7 cant=4
cant_<bend>=1 cant_<filler>=2 car=2 cardio=-4 carried=-3 carried_on=-3 carries=5 carry=4 catch=6
catch_<filler>=4 catch_<very>=3 chalk=-8 check=-4 checked=-4 checked_<filler>=-4 checked_<very>=-6
chest=3 chest_,=3 chest_<ache>=4 chest_<burst>=8 chest_<no_effort>=-2 chest_<pain>=5
chest_<press>=7 chest_<with>=-3 chest_<work>=-5 chest_and=-4 chest_discomfort=5 chest_is=-2
chest_pain=-2 chest_tight=5 chicken=-6 chin=5 chins=-7 class=-5 clean=-2 clear=-6 clenched=-5
clicks=-4 coach=-8 coach_<told>=-3 coffee=-4 coffee_<said_rest>=-6 cold=1 collapsed=-4 colour=5
colour_<filler>=2 colour_<with>=4 colour_of=2 coloured=7 coloured_<pee>=4 coloured_<pee_only>=4
comp=-7 comp_,=-4 cos=6 cos_<said_rest>=2 could=8 could_<filler>=3 couldn't=7 couldn't_<bend>=-4
couldnt=5 couldnt_<be>=-4 couldnt_get=4 count=-5 counted=5 cramp=-7 cramp_<filler>=-5 cramp_in=-5
cramped=-3 crunch=3 cue=-8 day=-9 days=3 deadlift=4 deads_,=-3 deads_<said_rest>=4 deep=3 dent=4
depth=-2 desk=-3 did=-1 did_<deny>=5 did_<everything>=-3 did_<filler>=3 did_<me>=-5
did_<said_no>=5 did_<thing>=-3 did_it=-3 did_my=-4 did_not=5 did_the=5 didnt=-5 died=-3
discomfort=8 dizziness=-6 dizzy_,=-5 dizzy_<filler>=5 do=-1 do_<if>=-5 do_if=-5 doesnt_<burst>=-4
doesnt_<pain>=-4 doesnt_hurt=-4 doing=12 doing_<beat>=5 doing_<no_effort>=7 doing_somersaults=5
doms=-16 doms_<filler>=-5 doms_in=-4 done=-5 dont=6 dont_remember=5 door=-5 doubled=6 down=10
down_,=5 down_<filler>=-2 down_<me>=2 down_<out_of_blue>=2 down_<up_down>=-5 down_<very>=2
down_<with>=-4 down_my=2 down_to=-2 drank=-3 drink=4 drive=3 drop=-4 dropped=1 dropped_when=-4
dull=7 dull_<burst>=4 during=15 during_<fatigue>=6 during_<work>=9 during_squats=5 each=3
each_<fatigue>=4 each_set=4 early=-3 eased=3 easy=-2 easy_<fatigue>=4 eat=2 eating=-3 elbow=5
enough=5 enough_<breath>=7 even=10 ever=-3 ever_<filler>=-4 every=7 every_<fatigue>=6 every_time=4
everyone=-4 everything=3 everything_<blur>=6 everything_<filler>=6 exertion=7 eye=5 eyes=1
faint=-4 fainted=8 fainted_<with>=-4 fast=-5 feel_<very>=3 feeling=9 feeling_<filler>=7
feeling_in=4 feels=4 feels_<filler>=2 feels_<press>=4 felt=-6 felt_<ache>=5 felt_<expected>=-3
felt_<filler>=3 felt_<good>=-6 felt_<me>=7 felt_<thing>=6 felt_<very>=-2 felt_a=2 felt_faint=5
felt_lightheaded=-5 felt_like=2 felt_strong=-4 few=4 finally=-7 fine=2 fine_<said_rest>=3 finger=3
fingers=6 finished=3 finished_<filler>=6 finisher=-3 fire=-4 first=-5 flat=-2 flight_,=-4 floor=-3
fluttering=5 flyes=-4 foot=-2 for=-1 for_<after_no>=3 for_<breath>=4 for_<deny>=3 for_<filler>=3
for_<lose>=3 for_<out_of_blue>=3 for_<part>=-7 for_<said_no>=3 for_<said_rest>=-2 for_<very>=5
for_a=11 for_breath=4 for_no=3 for_the=-4 forearms=4 free=-4 from=-8 from_<day>=-3 from_<deny>=4
from_<fatigue>=3 from_<filler>=-2 from_<limb>=2 from_<part>=5 from_<very>=2 front=2 funny=-7
garage=-4 gasping=8 gasping_<with>=4 gasping_after=3 gave=3 get=5 get_<faint>=-5 get_dizzy=-5
getting=-3 getting_<filler>=-5 giddy=10 giddy_<with>=7 glad=-4 glad_<me>=-4 go=5 goes=3
goes_<dead>=-5 goes_<numb>=-5 goes_numb=-5 going=7 gone=-7 gone_<filler>=2 gone_<with>=-7
gone_after=-3 gonna=3 good=-9 got=-5 got_<chest>=3 got_<everything>=-4 got_<filler>=2 got_<part>=3
got_<very>=-4 got_chest=3 got_the=-3 grand=-5 great=3 grey=3 grip=-3 grip_<be>=-3 grip_<lose>=-5
grip_<out_of_blue>=5 grip_<said_rest>=4 grip_<very>=5 groin=5 guy=-6 gym=-7 gym_<be>=5
had_<chest>=-5 had_<part>=-5 had_<said_rest>=-4 had_<up_down>=10 had_<very>=-2 had_<with>=10
had_a=-2 had_chest=-5 had_to=10 haha=-14 half=-3 half_<filler>=3 half_<no_effort>=-4 hamstring=6
hamstrings=-5 hand=9 hand_<be>=2 hand_<said_rest>=4 hands=-8 hands_<filler>=-5 happy=-5 hard=-3
hard_<with>=-5 hard_after=-8 has=-6 have_<deny>=-4 have_<said_no>=-4 head=1 head_<be>=5
head_<blur>=4 head_<very>=-4 headache=17 headache_<with>=3 headed=-5 heard=4 heard_<everything>=5
heard_<filler>=2 heard_<said_rest>=5 heard_<thing>=7 heard_<very>=2 heard_it=5 heart=2
heart_<be>=7 heart_<beat>=16 heart_<said_rest>=-6 heart_<with>=-13 heart_beat=4 heart_rate=-4
heartbeat=3 heavy=6 heavy_,=4 heavy_<filler>=-4 heavy_<with>=-7 heavy_<work>=6 heavy_after=-7
heavy_single=-3 hell=3 helped=-5 her=-10 here=-2 him=-10 hips=-5 his=-7 his_<part>=-4 hit=-3
hold=-3 holding=6 holding_<filler>=5 holding_<very>=5 home=3 hot=9 hour=3 hr=-7 hrs=4 hurt=-5
hurt_<filler>=-4 i=14 i'd=5 i_<faint>=4 i_<filler>=-6 i_<no_effort>=6 i_did=4 i_do=-3 i_had=-3
i_push=2 i_think=3 i_was=2 id=8 idea=5 if=-11 if_<chest>=-4 if_<filler>=-7 if_<me>=-4 if_<part>=-4
if_<said_rest>=-6 if_<very>=-3 if_chest=-4 if_i=-3 if_my=-3 im=-5 in=7 in_<chest>=2 in_<limb>=5
in_<muscle>=6 in_<no_effort>=3 in_<part>=11 in_<said_rest>=-3 in_<very>=5 in_<with>=-4
in_<work>=-4 in_a=3 in_bed=3 in_both=4 in_chest=2 in_left=2 in_on=3 in_the=-4 inhaler=4 inside=4
instant=3 instead=-4 irregular=11 irregular_<beat>=4 irregular_<heart>=4 irregular_rhythm=4 is=-8
is_<brown>=2 is_<burst>=7 is_<filler>=-5 is_<very>=-6 is_like=3 it=-5 it_<be>=-2 it_<pop>=6
it_<said_rest>=-2 it_in=-3 it_today=-3 it_up=-3 it_was=3 its=13 jaw=10 jaw_<be>=4 jaw_<burst>=7
jaw_<lose>=-3 jaw_<pain>=5 jaw_<with>=2 jaw_clenched=-5 jaw_dropped=-4 jaw_pain=5 juice=-5
jumped=-3 jumping=7 jumps=-4 just=8 just_<cannot>=-2 just_<filler>=2 just_<no_effort>=7 keeled=4
keeled_<up_down>=4 keeled_over=4 keep=4 keeps=3 kept_<everything>=-5 kept_<filler>=-4 kept_<me>=-6
kid=-4 kids=5 knackered=-5 knee=6 knee_<pop>=3 knee_<said_rest>=-2 lad=-3 last=1
last_<out_of_blue>=-3 last_<said_rest>=-2 last_rep=-3 last_set=2 lasted=2 late=-7 lats=-4
laughing=-4 left=2 left_,=4 left_<arm>=3 left_<filler>=-1 left_<hand>=-4 left_<limb>=1
left_<muscle>=4 left_<part>=1 left_arm=-1 left_hand=3 left_side=2 leg=4 leg_,=3 leg_<filler>=3
leg_<said_rest>=-3 leg_<work>=-6 leg_press=-2 legs=-3 legs_<dead>=-4 legs_<filler>=-5
legs_<said_rest>=3 legs_<very>=-2 legs_like=-4 let=5 let_<filler>=5 lie=6 lift=-1 lifts=-2
light=-4 light_<said_rest>=-4 light_headed=-5 lightheaded=9 lights=3 like=15 like_<be>=3
like_<brown>=8 like_<filler>=6 like_<me>=5 like_<other>=2 like_<very>=3 like_<weak>=-4 like_a=3
like_jelly=-4 little=-2 log=-5 lol=-25 long_<with>=6 long_after=6 looked=5 looking=3 loosened=-4
lost=-1 lost_<filler>=-3 lost_<very>=2 low=-2 lower=5 lower_<filler>=3 lower_<limb>=6
lower_<part>=6 lower_back=3 lump=4 lunges=4 lungs_<deny>=4 lying=6 lying_<up_down>=2 lying_down=2
machines=3 made=-4 made_<me>=-3 marks=-4 massively=4 mate=5 maybe=5 me=5 me_<part>=3 me_<very>=-3
me_on=-4 mean=-3 measured=5 mid=13 mid_<fatigue>=2 mid_<said_rest>=7 mid_<work>=7 mid_session=7
mid_set=-3 middle=4 middle_<filler>=3 middle_<with>=3 middle_of=3 min=-1 min_<with>=4 mins=2
mins_<with>=4 mins_after=5 minute_,=-5 minutes=3 missed=-9 mobility=-3 month=6 more=4 morning=3
moved=-3 muscle=-2 music=-6 my=2 my_<arm>=-5 my_<breath>=-2 my_<calf>=-2 my_<chest>=3
my_<fatigue>=-3 my_<hand>=-3 my_<head>=-3 my_<jaw>=3 my_<limb>=-2 my_<muscle>=-2 my_<other>=-3
my_<out_of_blue>=-3 my_<part>=12 my_<pee>=3 my_<pee_only>=3 my_<place>=-3 my_<very>=3 my_arm=-3
my_back=5 my_breath=-5 my_chest=1 my_eyes=-2 my_hands=-4 my_head=-3 my_left=2 myself=8 n=-1
nearly=8 nearly_<faint>=5 nearly_hit=4 neck=2 neck_<filler>=-4 neck_<with>=2 need=-6
need_<filler>=-6 need_<up_down>=-4 need_<with>=-4 need_to=-4 needed=-2 nerves=-5 never=-6
never_<said_rest>=-6 new=-8 new_<no_effort>=-4 new_shoes=-4 next=-9 next_<filler>=2
next_<out_of_blue>=-5 next_<said_rest>=-5 next_<up_down>=2 next_<with>=2 next_to=2 nice=-3
nicely=-4 night=3 night_,=6 no=-1 no_<blur>=-9 no_<breath>=4 no_<brown>=-5 no_<burst>=-3
no_<chest>=-3 no_<faint>=-9 no_<filler>=2 no_<grip>=6 no_<numb>=-6 no_<pain>=-2 no_<part>=-3
no_chest=-3 no_idea=5 no_pain=-2 no_reason=4 no_tingling=-4 none=-7 none_<filler>=-5
normal_<filler>=-3 normal_for=3 normally=7 not=9 not_<be>=-4 not_<filler>=-1 not_<said_rest>=-4
not_<up_down>=5 not_<very>=5 not_<with>=6 nothing=3 now=9 now_,=-8 nowhere=3 numb=8 numb_<limb>=3
numb_<part>=1 numbers=-6 numbness=5 nurse=4 of=8 of_<beat>=5 of_<breath>=5 of_<everything>=2
of_<fatigue>=-6 of_<filler>=2 of_<me>=2 of_<no_effort>=4 of_<out_of_blue>=4 of_<part>=3
of_<said_rest>=-2 of_my=3 of_the=-1 off=-10 off_<filler>=-2 off_<said_rest>=4 off_<very>=4 ok=5
ok_<filler>=3 ok_<said_rest>=6 ok_now=4 old=-3 on=4 on_<day>=2 on_<filler>=1 on_<hard_work>=3
on_<me>=-2 on_<no_effort>=3 on_<out_of_blue>=3 on_<part>=-3 on_<said_rest>=2 on_<work>=6
on_every=5 on_me=3 on_my=-5 on_rep=5 on_set=1 on_the=1 one=9 one_,=-3 one_<cause>=4 one_<filler>=2
one_<limb>=7 one_<out_of_blue>=4 one_<part>=3 one_<with>=-5 one_flight=4 one_side=4 only=6
only_<filler>=3 only_when=3 onto=5 or=-11 or_10=3 or_<faint>=-7 other=7 otherwise=4 out=1
out_<cause>=5 out_<dead>=4 out_<said_rest>=9 out_<with>=5 out_cold=4 over=9 over_<filler>=2
over_<said_rest>=3 own=-4 packed=-3 pain=7 pain_,=-3 pain_<after_no>=-6 pain_<deny>=-3
pain_<filler>=4 pain_<no_effort>=3 pain_<stab>=3 pain_<up_down>=3 pain_in=-3 pain_or=-6 pains=2
panting_<filler>=5 partner=3 passed=-2 passed_out=-3 past=-4 past_<filler>=-5 past_<very>=-5
patch=5 paused=-6 pb=-5 pec=5 pecs=-3 pee=7 pee_<be>=4 pee_<brown>=4 pee_<filler>=4 peeing=3
phone=-4 phone_,=-5 physio=-6 ping=4 pink=-3 pins_<said_rest>=-3 pins_<with>=-4 plan=-3 plates=-12
playing=4 podcast=-7 pop=4 pop_<filler>=-3 popped=1 popped_<filler>=-6 popped_<very>=-5 pops=-5
post=7 post_<work>=7 pr=-5 press=4 pressed=3 pressing=7 pressure=-3 pressure_in=3 preworkout=-4
proper=7 properly=5 protein=-4 puffed_out=-4 puffing=4 pulldown=-4 pulls=-3 pulse=10 pulse_<be>=3
pulse_<beat>=4 pulse_<said_rest>=3 pump=-12 pump_<filler>=-4 pumped=-9 push=3 pushups=-3 put=8
quads=-4 rack=-3 rack_<said_rest>=-3 raises=-1 rate=-4 read=-3 read_<very>=3 read_the=3 really=14
reason=7 reception=7 reddish=4 remember=7 rep=4 rep_,=3 rep_<filler>=3 rep_<said_rest>=4
rep_<with>=-3 rep_<work>=-3 rep_squats=-3 reps=-8 rest=4 rested=2 resting=7 rhythm=2 ribs=4
rice=-6 right=2 right_,=5 right_<calf>=3 right_<limb>=5 right_<one_calf>=3 right_<part>=6
right_calf=3 right_on=-8 ring=-6 ringing=4 room=7 rope=-4 round=6 round_<filler>=4 round_<me>=3
round_<very>=5 round_my=3 row=2 rower=-2 rows=1 rpe=-2 run=-3 running=8 said=6 same=8
same_<filler>=4 same_as=-5 sat=6 sat_<filler>=3 sat_<up_down>=2 sat_down=2 saw=1 saw_<blur>=7
saw_<filler>=-5 saw_<very>=-5 say=5 says=9 schedule=-5 second=5 seconds=4 secs=2 see=2 seeing=5
seeing_<blur>=5 sent_<filler>=5 session=7 session_,=8 set=10 set_,=5 set_1=4 set_3=2
set_<filler>=2 set_<said_rest>=4 set_<with>=-3 sets=-1 sets_<filler>=-4 sets_<said_rest>=3
sets_<very>=5 sharp=9 sharp_,=4 sharp_<burst>=5 sharp_<filler>=4 sharp_<pain>=3
sharp_<said_rest>=-3 sharp_pain=4 shirt=-2 shoes=-3 shooting=4 short=5 short_<filler>=3 shot=-2
shot_<up_down>=-2 shoulder=-2 shoulder_,=-4 shoulder_<pop>=3 sick=3 side=-3 side_<filler>=3
since=18 since_<day>=10 since_<fatigue>=4 since_<filler>=10 since_<me>=-6 since_<said_rest>=-6
since_<very>=10 since_<work>=3 since_i=-6 since_the=10 single_,=-5 sitting=5 size=4 skipping=3
sled=3 sleep=-1 sleep_,=4 slow=-5 slurred=4 snapped=-2 so=-18 so_<me>=-5 so_<no_effort>=-4
so_<said_rest>=-4 so_<swell>=5 so_i=-3 so_swollen=5 so_we=-3 sob=5 sob_on=7 some=4 someone=3
somersaults=5 something=13 something_<pop>=10 something_<tear>=7 something_tore=4 sore=-2
sore_<said_rest>=3 sore_<up_down>=-1 sore_from=-4 soreness=-4 speed=-6 spin=-4 split=-5
splitting=3 splitting_<headache>=3 splitting_headache=3 spot=3 squat=-3 squats=7 squats_,=-3
stabbing=5 stabbing_in=3 stairs=-2 stairs_<up_down>=4 stairs_<very>=4 stairs_<with>=2 stance=-4
stand=3 standing=12 standing_<up_down>=5 standing_up=5 stars=-4 start=12 started=3 sternum=6
stiff=-7 still=3 still_<burst>=3 stitch=-4 stood=-3 stop=-6 stop_<said_rest>=-5 stop_<with>=-5
stopped=7 stopped_<filler>=-4 stops=2 straps=-4 strength=5 stretch=-8 stretched=-5 strong=-5
stuff=3 sudden=5 suddenly=2 sumo=-4 sweat=-3 swell=-5 swelled=5 swelled_<up_down>=4 swelled_up=4
swollen=15 swollen_<said_rest>=3 swollen_<very>=3 swollen_<with>=2 swollen_and=3 t_<clothes>=-4
t_shirt=-4 tape=4 tea=7 technique=-3 teeth=6 telly=-5 ten=3 test=3 than=3 than_<expected>=6
than_<no_effort>=6 than_the=4 that=9 that_<deny>=4 that_<fatigue>=-6 that_<filler>=-3 that_<me>=4
thats=4 the=1 the_<bone>=4 the_<cause>=-3 the_<chest>=-1 the_<clothes>=2 the_<dead>=-5
the_<everything>=3 the_<fatigue>=4 the_<filler>=1 the_<hand>=3 the_<hard_work>=3 the_<head>=5
the_<heavy>=-3 the_<jaw>=2 the_<limb>=9 the_<muscle>=5 the_<no_effort>=8 the_<other>=5
the_<out_of_blue>=4 the_<part>=6 the_<pee_only>=-3 the_<place>=4 the_<said_rest>=-4 the_<very>=6
the_<work>=4 the_back=-3 the_bar=-2 the_bench=8 the_breastbone=3 the_carries=3 the_chest=-5
the_colour=4 the_floor=-3 the_garage=-4 the_gym=-2 the_head=4 the_heavy=-3 the_last=2 the_left=4
the_new=-5 the_other=3 the_rack=5 the_right=3 the_second=3 the_sled=3 the_squat=-4 the_treadmill=4
the_warm=-3 the_whole=2 the_wrist=4 them=6 then=4 then_<expected>=4 then_<filler>=3
then_<said_rest>=11 then_<work>=-5 there=10 theres=6 theres_<filler>=5 theres_<very>=5 theres_a=5
they=8 thigh=4 thighs=2 thing=7 think=3 third=8 third_<fatigue>=4 third_<said_rest>=5 this=2
this_<out_of_blue>=1 this_<said_rest>=-3 this_morning=1 this_time=-3 tho=5 thought=7
thought_<everything>=3 thought_<me>=4 thought_<said_rest>=3 thought_<thing>=3 thought_it=3 three=4
throat=3 thru=4 thru_<filler>=3 thumb=4 thump=5 thunderclap=5 thurs=4 ticker=11 tight=-8
tight_<chest>=3 tight_<part>=-2 tight_chest=3 tightness=5 time=1 time_<me>=4 time_<said_rest>=6
time_i=4 times=4 tingles=4 tingling=3 tired=-7 tired_<with>=-2 to=4 to_<advice>=-7 to_<filler>=3
to_<limb>=6 to_<muscle>=3 to_<part>=2 to_<very>=2 to_get=2 to_sit=2 to_the=4 to_touch=2 today=7
today_,=2 toe=5 toes=8 told=-7 tonight=4 too=-4 too_<burst>=-3 too_<press>=-3 too_tight=-3 took=1
took_<filler>=-6 took_<very>=-8 took_a=-8 toothache=4 toothache_<said_rest>=5 top=2 top_<filler>=8
top_<with>=4 top_of=4 tore_<filler>=-4 tore_<up_down>=-4 tore_<very>=-4 tore_through=-4 touch=6
touched=-3 trained=3 trained_<no_effort>=5 trained_<out_of_blue>=5 trained_light=5 training=9
training_<other>=4 training_<said_rest>=4 training_partner=4 treadmill=4 triceps=-5 tuesday=10
turn=3 tweaked=4 twice=18 twinge=4 two=2 two_<filler>=3 tying=4 tying_<filler>=4 tying_<me>=4
tying_<very>=4 tying_my=4 under=2 under_<filler>=6 under_<very>=5 under_the=4 up=6 up_,=-4
up_<everything>=-5 up_<out_of_blue>=4 up_<said_rest>=-4 up_<up_down>=5 up_<with>=8 up_from=4
up_in=-4 up_the=5 ups=3 urine=5 urine_<with>=-4 usual=-8 very=5 video=-7 vision=15 vision_<blur>=8
vision_<filler>=2 vision_board=-4 volume=-3 walk=3 walking_<up_down>=4 wall=-2 warm=-1
warm_<up_down>=-7 warm_up=-7 warmups=-5 warning=4 was=2 was_<be>=3 was_<beat>=4 was_<gasp>=5
was_<no_effort>=5 was_<said_rest>=3 was_<very>=-2 wasn't=-5 watch=11 watch_<told>=6 watch_says=6
watched=-5 water=-6 way=5 way_<filler>=-4 way_<with>=-3 we=-7 weak_<filler>=3 weak_<said_rest>=4
weaker=-4 wee_<be>=4 wee_<filler>=5 week=-7 week_,=-4 weeks=-4 weight=2 weights_<filler>=-5
weird=-2 well=-10 went=7 went_<blur>=4 went_<brown>=4 went_<colour>=4 went_<dead>=3
went_<filler>=-3 went_<pop>=2 went_<up_down>=-1 went_<with>=-4 went_out=-3 went_to=-4 when=11
when_<me>=9 when_<no_effort>=4 when_<said_rest>=4 when_i=8 while_<no_effort>=4 whole=10 why=6
wider=-4 wife=5 wife_<be>=-5 will=-4 will_<beat>=-4 winded=3 winded_<no_effort>=5 with=-2
with_<filler>=2 with_<no_effort>=6 with_<said_rest>=3 with_<very>=1 with_a=5 with_effort=3
with_rest=4 woke=9 woke_<up_down>=8 woke_up=8 wont=3 wont_<bend>=4 wont_<filler>=3 woozy=7 word=6
words=7 words_<be>=6 words_<filler>=5 work=-8 working=-4 workout=-2 works=-5 worse=5 wouldn't=5
wouldnt=3 wouldnt_<filler>=-3 wrist_<clothes>=-6 wrong=4 x=-5 x3=4 years=-10 you=-10 yrs=-3
"""
