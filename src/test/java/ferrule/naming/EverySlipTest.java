package ferrule.naming;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.glossary.Concept;
import ferrule.glossary.Term;
import ferrule.glossary.TermRole;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class EverySlipTest {

  private static final int LETTERS = 5;

  private final NameForms forms = new NameForms(Trumpet.GLOSSARY);
  private final List<String> otherParts = new ArrayList<>();
  private int slips;
  private int intended;
  private int tooVague;
  private int unknown;

  @Test
  void aWordOneEditWrongIsReadAsItWasMeantAndNeverAsAnotherPart() {
    for (Concept part : Trumpet.GLOSSARY.nameable()) {
      for (Term term : forms.terms(part)) {
        if (term.role() != TermRole.MISSPELLING && Trumpet.READER.read(term.text()).parts().equals(List.of(part))) {
          Slips.inPhrase(term.text(), LETTERS).forEach(slip -> count(part, slip));
        }
      }
    }
    System.out.printf(
        "every slip: %d one-edit misspellings of words of %d letters or more: %.3f %% as meant, %d too vague, %d unknown, "
            + "%d another part%n",
        slips, LETTERS, 100.0 * intended / slips, tooVague, unknown, otherParts.size());
    assertTrue(slips > 100_000, "only " + slips + " misspellings were made");
    assertEquals(List.of(), otherParts);
    assertTrue(intended >= 0.98 * slips, intended + " of " + slips);
  }

  private void count(Concept part, String slip) {
    slips++;
    Verdict verdict = Trumpet.READER.judge(part.id(), slip);
    if (verdict.namesThePart()) {
      intended++;
    } else if (verdict instanceof Verdict.TooVague) {
      tooVague++;
    } else if (verdict instanceof Verdict.Unknown) {
      unknown++;
    } else {
      otherParts.add(part.id() + " <- " + slip + " -> " + verdict.code() + " " + Trumpet.picked(slip));
    }
  }
}
