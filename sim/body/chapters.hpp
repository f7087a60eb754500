// The chapters of the standard body, each in its own file; they only write to the builder.
#pragma once

namespace drawdown::body {

class Builder;
void write_turnover(Builder& builder);
void write_classical(Builder& builder);
void write_alternative(Builder& builder);
void write_terminal(Builder& builder);
void write_complexes(Builder& builder);
void write_tissue(Builder& builder);
void write_liver(Builder& builder);

}  // namespace drawdown::body
