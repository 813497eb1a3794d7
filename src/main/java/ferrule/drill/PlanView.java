package ferrule.drill;

import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.stream.Collectors;

/**
 * A plan in words.
 *
 * @param scope which parts
 * @param kinds the ways of asking
 * @param length how many items
 * @param colloquial whether colloquial terms count as right
 */
record PlanView(String scope, String kinds, int length, boolean colloquial) {

  private static final int NAMED = 3;

  static PlanView of(Plan plan, ItemPool pool, PartNames names) {
    return new PlanView(scope(plan, pool, names), kinds(plan), plan.length(), plan.colloquial());
  }

  private static String kinds(Plan plan) {
    List<String> brief = plan.kinds().stream().sorted().map(ItemKind::brief).toList();
    if (brief.size() > NAMED) {
      return brief.size() + " kinds of questions";
    }
    int last = brief.size() - 1;
    return last == 0 ? brief.get(0) : String.join(", ", brief.subList(0, last)) + " and " + brief.get(last);
  }

  /** The title that is proposed for a drill, such as "Naming and finding: bell, leadpipe". */
  static String title(Plan plan, ItemPool pool, PartNames names) {
    PlanView view = of(plan, pool, names);
    return PartNames.capital(view.kinds()) + ": " + view.scope();
  }

  private static String scope(Plan plan, ItemPool pool, PartNames names) {
    if (!plan.parts().isEmpty()) {
      return plan.parts().size() == 1 ? "one part" : plan.parts().size() + " parts";
    }
    List<ConceptId> picked = plan.assemblies();
    if (picked.containsAll(pool.assemblies())) {
      return "the whole instrument";
    }
    String first = picked.stream().limit(NAMED).map(names::scope).collect(Collectors.joining(", "));
    return picked.size() <= NAMED ? first : first + " and " + (picked.size() - NAMED) + " more";
  }
}
