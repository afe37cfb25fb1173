"""The set-up procedure of a stage, whichever it has."""

from __future__ import annotations

from handwheel.plan.records import Stage
from handwheel.setups.attachment import attachment_procedure
from handwheel.setups.balls import ball_procedure
from handwheel.setups.joints import joint_procedure
from handwheel.setups.records import Procedure
from handwheel.setups.setover import set_over_procedure
from handwheel.setups.taperprocedure import taper_procedure
from handwheel.setups.threading import thread_procedure
from handwheel.workshop.records import Workshop


def procedure_of(stage: Stage, shop: Workshop) -> Procedure | None:
    """How a stage's delicate set-up is made and mended; None where it has none, or cannot be done here."""
    if stage.operation.refused:
        return None
    return (
        ball_procedure(stage, shop)
        or taper_procedure(stage, shop)
        or attachment_procedure(stage, shop)
        or set_over_procedure(stage, shop)
        or thread_procedure(stage, shop)
        or joint_procedure(stage)
    )
