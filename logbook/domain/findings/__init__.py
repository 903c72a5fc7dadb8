"""What repeats in the log, found by the published order of review.

Plain rules count (`rules`, `high_rules`); what chance could bring is tested (`comparisons`,
`statistical`). A finding is evidence with a name: it tells no cause and no treatment.
"""

from logbook.domain.findings.finding import Finding, FindingKind, PartOfDay, Rank, Side
from logbook.domain.findings.review import days_needed, find_findings
from logbook.domain.findings.statistical import as_of_week

__all__ = [
    "Finding",
    "FindingKind",
    "PartOfDay",
    "Rank",
    "Side",
    "as_of_week",
    "days_needed",
    "find_findings",
]
