package ferrule.competency;

import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * What a school teaches: areas of competencies, in one edition.
 *
 * @param id stable name
 * @param title in words
 * @param edition of its text: equal for equal texts
 * @param text as it was written, so that this edition can be kept and read again
 * @param areas in the order of learning
 */
public record Programme(String id, String title, String edition, String text, List<Area> areas) {

  /** Copies the list and checks that prerequisites exist and that none leads back to itself. */
  public Programme {
    areas = List.copyOf(areas);
    List<Competency> competencies = competencies(areas);
    Set<String> ids = new LinkedHashSet<>();
    competencies.forEach(c -> ids.add(c.id()));
    competencies.stream().flatMap(c -> c.prerequisites().stream()).filter(p -> !ids.contains(p)).findFirst()
        .ifPresent(p -> {
          throw new IllegalArgumentException("the programme has no competency " + p + " that could come first");
        });
    circle(competencies).ifPresent(c -> {
      throw new IllegalArgumentException("competencies come first in a circle: " + String.join(", ", c));
    });
  }

  /** Every competency, in the order of learning. */
  public List<Competency> competencies() {
    return competencies(areas);
  }

  /** The competency with this id, if there is one. */
  public Optional<Competency> find(String competency) {
    return competencies().stream().filter(c -> c.id().equals(competency)).findFirst();
  }

  /** The titles of the tasks and the terms of the assemblies that its rules name, by id. */
  public Map<String, String> titles() {
    Map<String, String> titles = new TreeMap<>();
    competencies().stream().flatMap(c -> c.requires().all()).forEach(rule -> {
      if (rule instanceof Requirement.Signed signed) {
        titles.put(signed.task().value(), signed.title());
      } else if (rule instanceof Requirement.Names names) {
        titles.put(names.assembly().value(), names.term());
      } else if (rule instanceof Requirement.Known known) {
        titles.put(known.scope().value(), known.term());
      }
    });
    return titles;
  }

  private static List<Competency> competencies(List<Area> areas) {
    return areas.stream().flatMap(a -> a.competencies().stream()).toList();
  }

  /** Competencies each of which comes before the one that stands before it, and the first before the last, if any do. */
  static Optional<List<String>> circle(List<Competency> competencies) {
    Map<String, Competency> byId = new HashMap<>();
    competencies.forEach(c -> byId.put(c.id(), c));
    Set<String> done = new LinkedHashSet<>();
    return competencies.stream()
        .flatMap(c -> circle(c.id(), byId, new LinkedHashSet<>(), done).stream())
        .findFirst();
  }

  private static Optional<List<String>> circle(
      String id, Map<String, Competency> byId, Set<String> path, Set<String> done) {
    if (path.contains(id)) {
      List<String> steps = List.copyOf(path);
      return Optional.of(steps.subList(steps.indexOf(id), steps.size()));
    }
    Competency competency = byId.get(id);
    if (competency == null || done.contains(id)) {
      return Optional.empty();
    }
    path.add(id);
    Optional<List<String>> circle = competency.prerequisites().stream()
        .flatMap(p -> circle(p, byId, path, done).stream()).findFirst();
    path.remove(id);
    done.add(id);
    return circle;
  }
}
