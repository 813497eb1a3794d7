package ferrule.procedure;

import java.util.List;

/** A question about a procedure. */
public sealed interface ProcedureItem {

  /** What a choice asks for. */
  enum Asks {
    /** Which step can come next, after those shown. */
    NEXT_STEP,
    /** Which step was left out of those shown. */
    STEP_LEFT_OUT,
    /** Which tool the step shown takes. */
    TOOL,
    /** Which caution the step shown calls for. */
    CAUTION
  }

  /** The procedure that it is about. */
  ProcedureId procedure();

  /**
   * Put the steps in order; judged by {@link OrderJudge}.
   *
   * @param procedure the procedure
   * @param shown all of its steps, in an order that does not work
   */
  record PutInOrder(ProcedureId procedure, List<StepId> shown) implements ProcedureItem {

    /** Copies the list. */
    public PutInOrder {
      shown = List.copyOf(shown);
    }
  }

  /**
   * Choose one of several.
   *
   * @param procedure the procedure
   * @param asks what is asked for
   * @param shown the steps that the question shows, in this order
   * @param stem the question in words
   * @param options of which one is right, in the order to show them in
   */
  record Choice(ProcedureId procedure, Asks asks, List<StepId> shown, String stem, List<Option> options)
      implements ProcedureItem {

    /** Copies the lists and checks that one option is right. */
    public Choice {
      shown = List.copyOf(shown);
      options = List.copyOf(options);
      if (options.stream().filter(Option::right).count() != 1) {
        throw new IllegalArgumentException("expected one right option; given: " + options);
      }
    }

    /** The right option. */
    public Option key() {
      return options.stream().filter(Option::right).findFirst().orElseThrow();
    }
  }

  /**
   * One answer to choose.
   *
   * @param id of a step, tool or caution; a step of another procedure stands as {@code procedure/step}
   * @param text what it says
   * @param right whether it is the right one
   * @param because why it is right or wrong, in a sentence
   */
  record Option(String id, String text, boolean right, String because) {}
}
