package ferrule.competency;

import ferrule.bench.SignedWork;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Whether a requirement is met, what speaks for it, and what is still missing.
 *
 * @param works the sign-offs that count toward it
 * @param names how each assembly's parts were named that it asks for, by the assembly's term
 * @param minutes at the bench that count toward it; 0 if it asks for none
 * @param before the competencies that come first, by title, and whether each is complete
 * @param equivalence prior learning that stands in for it, if any does
 * @param missing the shortest list of what would meet it; empty if it is met
 * @param first the titles of the competencies that some of what is missing belongs to
 */
public record Verdict(
    List<SignedWork> works,
    Map<String, PartsNamed> names,
    int minutes,
    Map<String, Boolean> before,
    Optional<Equivalence> equivalence,
    List<Gap> missing,
    List<String> first) {

  /** Copies the lists. */
  public Verdict {
    works = List.copyOf(works);
    missing = List.copyOf(missing);
    first = List.copyOf(first);
  }

  /** Whether the requirement is met. */
  public boolean isMet() {
    return missing.isEmpty();
  }

  /** Whether anything speaks for it yet. */
  public boolean isBegun() {
    return !works.isEmpty() || minutes > 0 || names.values().stream().anyMatch(n -> n.right() > 0);
  }

  /** Whether nothing but the age of earlier work is in the way. */
  public boolean isLapsed() {
    return !isMet()
        && missing.stream().allMatch(g -> g instanceof Gap.SignOffs s && s.lapsed().isPresent());
  }

  /** How much is missing, in the measure by which the shortest list is chosen; 0 if nothing is. */
  public int cost() {
    return new Way(missing, Map.of(), Set.of()).cost();
  }

  /** "Complete." or what is missing, in a sentence. */
  public String sentence() {
    if (isMet()) {
      return equivalence.isPresent() ? "Complete by prior learning." : "Complete.";
    }
    String list = missing.stream().map(Gap::inWords).collect(Collectors.joining("; and "));
    return "Missing: " + list + hint().map(h -> ". " + h).orElse("") + ".";
  }

  /** What else helps to understand what is missing, without a full stop. */
  public Optional<String> hint() {
    String shared = sharesTasks() ? "One sign-off can serve for both" : "";
    String order = first.isEmpty() ? ""
        : first.stream().map(t -> "“" + t + "”").collect(Collectors.joining(" and "))
            + (first.size() == 1 ? " comes first" : " come first");
    String hint = shared + (shared.isEmpty() || order.isEmpty() ? "" : ". ") + order;
    return hint.isEmpty() ? Optional.empty() : Optional.of(hint);
  }

  private boolean sharesTasks() {
    List<Gap.SignOffs> signOffs = missing.stream()
        .filter(Gap.SignOffs.class::isInstance).map(Gap.SignOffs.class::cast).toList();
    return signOffs.stream().map(Gap.SignOffs::task).distinct().count() < signOffs.size();
  }
}
