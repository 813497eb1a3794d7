package ferrule.drawing;

import java.util.function.ToDoubleFunction;

/**
 * A formula of a dimension, such as {@code 2 * reach + pi * bendRadius}: numbers, names of other dimensions, the four
 * operations, powers with {@code ^}, brackets, {@code pi}, and the functions sqrt, sin, cos and tan (of degrees).
 */
final class Expression {

  private final String text;
  private final ToDoubleFunction<String> names;
  private int at;

  private Expression(String text, ToDoubleFunction<String> names) {
    this.text = text;
    this.names = names;
  }

  /**
   * The value of a formula.
   *
   * @param names gives the value of a name, or throws {@link IllegalArgumentException}
   * @throws IllegalArgumentException if it is not a formula or a name is not known; the message says where
   */
  static double evaluate(String text, ToDoubleFunction<String> names) {
    Expression e = new Expression(text, names);
    double value = e.sum();
    if (e.peek() != 0) {
      throw e.wrong("an operation or the end");
    }
    return value;
  }

  private double sum() {
    double value = product();
    for (char c = peek(); c == '+' || c == '-'; c = peek()) {
      at++;
      value = c == '+' ? value + product() : value - product();
    }
    return value;
  }

  private double product() {
    double value = signed();
    for (char c = peek(); c == '*' || c == '/'; c = peek()) {
      at++;
      value = c == '*' ? value * signed() : value / signed();
    }
    return value;
  }

  private double signed() {
    if (peek() == '-') {
      at++;
      return -signed();
    }
    return power();
  }

  private double power() {
    double base = atom();
    if (peek() == '^') {
      at++;
      return Math.pow(base, signed());
    }
    return base;
  }

  private double atom() {
    char c = peek();
    if (c == '(') {
      at++;
      return closed(sum());
    }
    if (Character.isDigit(c) || c == '.') {
      return number();
    }
    if (Character.isLetter(c)) {
      return named();
    }
    throw wrong("a number, a name or a bracket");
  }

  private double closed(double value) {
    if (peek() != ')') {
      throw wrong("a closing bracket");
    }
    at++;
    return value;
  }

  private double number() {
    int start = at;
    while (at < text.length() && (Character.isDigit(text.charAt(at)) || text.charAt(at) == '.')) {
      at++;
    }
    try {
      return Double.parseDouble(text.substring(start, at));
    } catch (NumberFormatException e) {
      at = start;
      throw wrong("a number");
    }
  }

  private double named() {
    int start = at;
    while (at < text.length() && Character.isLetterOrDigit(text.charAt(at))) {
      at++;
    }
    String name = text.substring(start, at);
    if (peek() == '(') {
      at++;
      return function(name, closed(sum()));
    }
    return name.equals("pi") ? Math.PI : names.applyAsDouble(name);
  }

  private double function(String name, double value) {
    return switch (name) {
      case "sqrt" -> Math.sqrt(value);
      case "sin" -> Math.sin(Math.toRadians(value));
      case "cos" -> Math.cos(Math.toRadians(value));
      case "tan" -> Math.tan(Math.toRadians(value));
      default -> throw new IllegalArgumentException("expected sqrt, sin, cos or tan, found '" + name + "'");
    };
  }

  private char peek() {
    while (at < text.length() && text.charAt(at) == ' ') {
      at++;
    }
    return at < text.length() ? text.charAt(at) : 0;
  }

  private IllegalArgumentException wrong(String expected) {
    return new IllegalArgumentException(
        "expected " + expected + " at character " + (at + 1) + " of the formula '" + text + "'");
  }
}
