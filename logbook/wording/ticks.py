"""The questions about medicines and health, their short names, and what they do to a number."""

from __future__ import annotations

from logbook.domain.ticks import (
    ABOUT_MEDICINES,
    FOOLS_THE_A1C,
    FOOLS_THE_METER,
    About,
    Told,
)
from logbook.wording import _, mark

_QUESTION = {
    About.INSULIN: mark("Do you take insulin?"),
    About.LOW_CAUSING_TABLETS: mark("Do you take tablets that can cause lows?"),
    About.SGLT2_INHIBITOR: mark("Do you take an SGLT2 inhibitor?"),
    About.SLOWS_SUGAR: mark("Do you take acarbose or miglitol?"),
    About.STEROID_NOW: mark("Do you take a steroid now?"),
    About.BETA_BLOCKER: mark("Do you take a beta blocker?"),
    About.BLOOD_THINNER: mark("Do you take a blood thinner?"),
    About.ANAEMIA: mark("Do you have anaemia, or have you lost blood?"),
    About.THICK_BLOOD: mark("Is your blood thick, or are you often dried out?"),
    About.HAEMODIALYSIS: mark("Do you have dialysis of the blood?"),
    About.ICODEXTRIN: mark("Do you have dialysis through the belly, with icodextrin?"),
    About.VITAMIN_C: mark("Do you take a lot of vitamin C?"),
    About.POOR_CIRCULATION: mark("Does blood flow badly to your hands?"),
    About.HAEMOLYSIS: mark("Do your red blood cells break down too soon?"),
    About.KIDNEY_OR_LIVER: mark("Do you have severe kidney or liver disease?"),
    About.TRANSFUSION: mark("Have you been given blood?"),
    About.ERYTHROPOIETIN: mark("Do you get erythropoietin?"),
    About.IRON_DEFICIENCY: mark("Do you have too little iron?"),
}

_HELP = {
    About.INSULIN: mark("By pen, pump or syringe."),
    About.LOW_CAUSING_TABLETS: mark("They are called sulfonylureas and glinides."),
    About.SGLT2_INHIBITOR: mark("Tablets that pass sugar into the urine."),
    About.SLOWS_SUGAR: mark("Tablets that slow down sugar from meals."),
    About.STEROID_NOW: mark("As tablets or injections. A steroid raises the numbers."),
    About.BETA_BLOCKER: mark("For the heart or the blood pressure. It can hide a low."),
    About.BLOOD_THINNER: mark("A finger can bleed for longer."),
}

_NAME = {
    About.INSULIN: mark("Insulin"),
    About.LOW_CAUSING_TABLETS: mark("Tablets that can cause lows"),
    About.SGLT2_INHIBITOR: mark("SGLT2 inhibitor"),
    About.SLOWS_SUGAR: mark("Acarbose or miglitol"),
    About.STEROID_NOW: mark("Steroid now"),
    About.BETA_BLOCKER: mark("Beta blocker"),
    About.BLOOD_THINNER: mark("Blood thinner"),
    About.ANAEMIA: mark("Anaemia or blood loss"),
    About.THICK_BLOOD: mark("Thick blood or dehydration"),
    About.HAEMODIALYSIS: mark("Haemodialysis"),
    About.ICODEXTRIN: mark("Peritoneal dialysis with icodextrin"),
    About.VITAMIN_C: mark("High-dose vitamin C"),
    About.POOR_CIRCULATION: mark("Poor circulation"),
    About.HAEMOLYSIS: mark("Haemolysis"),
    About.KIDNEY_OR_LIVER: mark("Severe kidney or liver disease"),
    About.TRANSFUSION: mark("Blood transfusion"),
    About.ERYTHROPOIETIN: mark("Erythropoietin"),
    About.IRON_DEFICIENCY: mark("Iron deficiency"),
}

# What is known of the meter: PMC3208875 and PMC3876385, read at the journal, and the FDA's notice
# of 2009, in a copy. What is known of the A1C: in secondary copies.
_EFFECT = {
    About.ANAEMIA: mark("reads high, can hide a low"),
    About.THICK_BLOOD: mark("reads low"),
    About.HAEMODIALYSIS: mark("may read wrong around dialysis"),
    About.ICODEXTRIN: mark("some meters read far too high and hide a low"),
    About.VITAMIN_C: mark("may read wrong with some strips"),
    About.POOR_CIRCULATION: mark("may read wrong at the fingertip"),
    About.HAEMOLYSIS: mark("A1C falsely low"),
    About.KIDNEY_OR_LIVER: mark("A1C falsely low"),
    About.TRANSFUSION: mark("A1C falsely low"),
    About.ERYTHROPOIETIN: mark("A1C falsely low"),
    About.IRON_DEFICIENCY: mark("A1C falsely high"),
}

_TOLD = {
    Told.YES: mark("Yes"),
    Told.NO: mark("No"),
    Told.NOT_SURE: mark("Not sure"),
}


def about_question(about: About) -> str:
    """The question as it is asked."""
    return _(_QUESTION[about])


def about_help(about: About) -> str:
    """One line below the question, where the name alone may not be known; else empty."""
    return _(_HELP.get(about, ""))


def about_name(about: About) -> str:
    """The short name, for page 1 and lists."""
    return _(_NAME[about])


def told_text(told: Told | None) -> str:
    """What was answered."""
    return _("Not answered") if told is None else _(_TOLD[told])


def tick_effect(about: About) -> str:
    """What it does to a number, for the provider; empty for a medicine."""
    return _(_EFFECT.get(about, ""))


def tick_note(about: About, told: Told = Told.YES) -> str:
    """One line for page 1: "Anaemia or blood loss (reads high, can hide a low)"."""
    name, effect = about_name(about), tick_effect(about)
    if told is Told.NOT_SURE:
        name = _("{name}, not sure").format(name=name)
    return _("{name} ({effect})").format(name=name, effect=effect) if effect else name


def about_group_text(group: tuple[About, ...]) -> str:
    """The heading above a group of questions."""
    return {
        ABOUT_MEDICINES: _("My medicines"),
        FOOLS_THE_METER: _("What can fool the meter"),
        FOOLS_THE_A1C: _("What can fool the A1C"),
    }[group]
