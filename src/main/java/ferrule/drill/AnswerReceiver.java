package ferrule.drill;

import com.fasterxml.jackson.databind.JsonNode;
import ferrule.device.Delivery;
import ferrule.device.Receipt;
import ferrule.device.Receiver;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * Takes in answers that were given on a device without a network. The deadline is that of any answer: what counts is when
 * it arrives, because a device's clock proves nothing.
 */
final class AnswerReceiver implements Receiver {

  private static final String KIND = "answer";

  private final Drills drills;
  private final DrillStore store;
  private final Pictures pictures;
  private final Turns turns;

  AnswerReceiver(Drills drills, DrillStore store, Pictures pictures, Turns turns) {
    this.drills = drills;
    this.store = store;
    this.pictures = pictures;
    this.turns = turns;
  }

  @Override
  public Set<String> kinds() {
    return Set.of(KIND);
  }

  @Override
  public Receipt receive(Delivery delivery) {
    JsonNode said = delivery.said();
    Optional<Sitting> sitting = DrillForm.uuid(said.path("sitting").asText()).flatMap(store::sitting)
        .filter(s -> s.person().equals(delivery.device().person()));
    Optional<Item> item = sitting.flatMap(s -> s.item(said.path("position").asInt()));
    if (item.isEmpty()) {
      return new Receipt(
          Receipt.State.HELD, "An answer came from your device to a question that is not yours or not known here.", "",
          Optional.empty());
    }
    Map<String, List<String>> fields = new HashMap<>();
    said.path("fields").forEach(
        f -> fields.computeIfAbsent(f.path(0).asText(), name -> new ArrayList<>()).add(f.path(1).asText()));
    return take(sitting.get(), item.get(), fields);
  }

  private Receipt take(Sitting sitting, Item item, Map<String, List<String>> fields) {
    String question = sitting.title() + ", question " + item.position();
    AnswerForm form = new AnswerForm(pictures, item, name -> fields.getOrDefault(name, List.of()));
    UUID key = fields.getOrDefault("key", List.of()).stream().findFirst().flatMap(DrillForm::uuid)
        .orElseGet(UUID::randomUUID);
    boolean open = store.response(sitting.id(), item.position()).isEmpty();
    if (open && turns.isClosed(sitting)) {
      return receipt(
          Receipt.State.LATE, question + ": the answer that you gave without a network came when the drill had closed, so "
              + "that it does not count.", sitting);
    }
    if (!form.problem().isEmpty()) {
      return receipt(Receipt.State.HELD, question + ": what came from your device is no answer. " + form.problem(), sitting);
    }
    Response counts = drills.answer(sitting, item, form.answer(), key);
    return counts.id().equals(key) ? receipt(Receipt.State.KEPT, question + ": answered.", sitting)
        : receipt(
            Receipt.State.HELD, question + " was answered before, in another tab or on another device. That answer counts, "
                + "and not the one that you gave without a network.", sitting);
  }

  private static Receipt receipt(Receipt.State state, String words, Sitting sitting) {
    return new Receipt(state, words, "/drill/" + sitting.id(), Optional.of(sitting.id()));
  }
}
