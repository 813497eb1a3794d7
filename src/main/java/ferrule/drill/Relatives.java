package ferrule.drill;

import ferrule.drill.item.Option;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** The parts that stand out beside the asked one on the drawing that explains an answer. */
record Relatives(PartNames names) {

  /**
   * What an item's part was taken for, the look-alike that it was told apart from, the assembly that it belongs to, what
   * it joins, or where the air came from.
   */
  List<ConceptId> of(Item item, Optional<ConceptId> takenFor) {
    Set<ConceptId> found = new LinkedHashSet<>(takenFor.stream().toList());
    switch (item.kind()) {
      case LOOK_ALIKES -> item.choice().orElseThrow().options().stream()
          .flatMap(o -> o.part().stream())
          .forEach(found::add);
      case ASSEMBLY -> item.choice().map(c -> c.key()).flatMap(Option::part).ifPresent(found::add);
      case ODD_ONE_OUT -> names.home(item.key()).ifPresent(found::add);
      case BRACE -> found.addAll(names.glossary().find(item.key()).map(Concept::joins).orElse(List.of()));
      case AIR_PATH -> item.lit().ifPresent(found::add);
      default -> { }
    }
    found.remove(item.key());
    return new ArrayList<>(found);
  }
}
