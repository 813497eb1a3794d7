package ferrule.drill;

import java.util.List;
import java.util.Map;

/** The result of a sitting as both its apprentice and an instructor see it. */
final class SittingView {

  private final DrillStore store;
  private final PartNames names;
  private final Calendar calendar;

  SittingView(DrillStore store, PartNames names, Calendar calendar) {
    this.store = store;
    this.names = names;
    this.calendar = calendar;
  }

  /** What the template of a result reads. */
  Map<String, Object> result(Sitting sitting) {
    SittingSummary summary = store.summary(sitting.id()).orElseThrow();
    List<Response> responses = store.responses(sitting.id());
    long toPractise = responses.stream().filter(r -> !r.now().isRight()).count();
    return Map.of(
        "sitting", sitting.id(),
        "title", sitting.title(),
        "startedAt", calendar.moment(sitting.startedAt()),
        "points", ResponseView.points(summary.credit()),
        "length", summary.length(),
        "answered", summary.answered(),
        "percent", summary.percent(),
        "done", summary.isDone(),
        "toPractise", toPractise,
        "rows", responses.stream().map(r -> ResponseView.of(r, names)).toList());
  }
}
