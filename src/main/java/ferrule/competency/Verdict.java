package ferrule.competency;

import ferrule.bench.SignedWork;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/**
 * Whether a requirement is met, what speaks for it, and what is still missing.
 *
 * @param works the sign-offs that count toward it
 * @param names how each assembly's parts were named that it asks for, by the assembly's term
 * @param missing the shortest list of what would meet it; empty if it is met
 */
public record Verdict(List<SignedWork> works, Map<String, PartsNamed> names, List<Gap> missing) {

  /** Copies the lists. */
  public Verdict {
    works = List.copyOf(works);
    missing = List.copyOf(missing);
  }

  /** Whether the requirement is met. */
  public boolean isMet() {
    return missing.isEmpty();
  }

  /** Whether anything speaks for it yet. */
  public boolean isBegun() {
    return !works.isEmpty() || names.values().stream().anyMatch(n -> n.right() > 0);
  }

  /** "Complete." or what is missing, in a sentence. */
  public String sentence() {
    if (isMet()) {
      return "Complete.";
    }
    String list = missing.stream().map(Gap::inWords).collect(Collectors.joining("; and "));
    return "Missing: " + list + (sharesTasks() ? ". One sign-off can serve for both" : "") + ".";
  }

  private boolean sharesTasks() {
    List<Gap.SignOffs> signOffs = missing.stream()
        .filter(Gap.SignOffs.class::isInstance).map(Gap.SignOffs.class::cast).toList();
    return signOffs.stream().map(Gap.SignOffs::task).distinct().count() < signOffs.size();
  }
}
